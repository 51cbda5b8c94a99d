using System.Net;
using System.Net.Sockets;
using Amazon.Runtime;

namespace Pairbench.Storage;

/// <summary>An answer of an S3 server that rests on the settings, in words that name what to look at. No text of the server is repeated: it may hold keys.</summary>
internal sealed record S3Refusal(string What, string WouldBeRight)
{
    /// <summary>Null for what is no matter of settings, such as an error of the server.</summary>
    public static S3Refusal? Of(Exception? e) => e switch
    {
        AmazonServiceException { ErrorCode: "InvalidAccessKeyId" } => new("is on a server that does not know the access key", "check AWS_ACCESS_KEY_ID and --s3-endpoint"),
        AmazonServiceException { ErrorCode: "SignatureDoesNotMatch" } => new("is on a server that does not take the signature", "check AWS_SECRET_ACCESS_KEY and --s3-region"),
        AmazonServiceException { ErrorCode: "ExpiredToken" or "InvalidToken" } => new("is on a server that does not take the session", "set AWS_SESSION_TOKEN, AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY anew"),
        AmazonServiceException { ErrorCode: "RequestTimeTooSkewed" } => new("is on a server whose clock differs from this one", "set the clock of this machine"),
        AmazonServiceException { ErrorCode: "NoSuchBucket" } => new("names a bucket that is not there", "make the bucket, or name another"),
        AmazonServiceException { ErrorCode: "AuthorizationHeaderMalformed" or "PermanentRedirect" or "IllegalLocationConstraintException" } => new("lies in another region", "name its region in --s3-region or AWS_REGION"),
        AmazonServiceException { StatusCode: HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized } => new("may not be used with these keys", "let the keys list the bucket, and get and put objects below the prefix"),
        AmazonServiceException { StatusCode: HttpStatusCode.Moved or HttpStatusCode.TemporaryRedirect or HttpStatusCode.BadRequest or HttpStatusCode.NotFound or HttpStatusCode.MethodNotAllowed } service =>
            new($"is on a server that answers {(int)service.StatusCode} to what S3 asks", "check --s3-endpoint, --s3-region and the bucket"),
        HttpRequestException or { InnerException: HttpRequestException } => new("cannot be reached", "check --s3-endpoint, the region and the network"),
        _ => null,
    };

    /// <summary>What happened, for a line of its own.</summary>
    public static string Words(Exception e) => e switch
    {
        AmazonServiceException { StatusCode: not 0 } service => $"the server answers {(int)service.StatusCode}{(string.IsNullOrEmpty(service.ErrorCode) ? "" : " " + new string([.. service.ErrorCode.Where(char.IsAsciiLetterOrDigit).Take(60)]))}",
        HttpRequestException or { InnerException: HttpRequestException } => "the server cannot be reached, or broke off",
        HttpIOException or IOException { InnerException: SocketException } => "the answer broke off",
        IOException => e.Message.TrimEnd('.'),
        AmazonClientException when e.Message.Contains("hash", StringComparison.OrdinalIgnoreCase) => "what came is damaged",
        AmazonClientException => "the connection failed",
        _ => "its answer makes no sense",
    };
}
