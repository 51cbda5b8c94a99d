using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace Pairbench.Storage.Tests;

/// <summary>A PostgreSQL server of its own in a temporary folder, for as long as the tests run.</summary>
public sealed class PostgreSqlServer : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-pg-").FullName;
    private readonly int _port = FreePort();
    private string _binaries = "";

    public string Connection => $"Host=127.0.0.1;Port={_port};Username=bench;Database=postgres;Maximum Pool Size=20";

    public async ValueTask InitializeAsync()
    {
        _binaries = Find();
        if (Environment.UserName == "root")
        {
            // The server refuses to run as root.
            Run("chown", "-R", "nobody", _folder);
        }

        AsServerUser($"{_binaries}/initdb -D {_folder}/data -U bench -A trust --no-sync >{_folder}/initdb.log 2>&1");
        AsServerUser($"{_binaries}/pg_ctl -D {_folder}/data -w -l {_folder}/server.log -o '-p {_port} -c listen_addresses=127.0.0.1 -k {_folder}' start >/dev/null 2>&1");
        await using var connection = new NpgsqlConnection(Connection);
        await connection.OpenAsync();
    }

    public ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        AsServerUser($"{_binaries}/pg_ctl -D {_folder}/data -m immediate stop >/dev/null 2>&1");
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    private static string Find() =>
        (Directory.Exists("/usr/lib/postgresql") ? Directory.GetDirectories("/usr/lib/postgresql").Select(d => Path.Combine(d, "bin")) : [])
            .Concat((Environment.GetEnvironmentVariable("PATH") ?? "").Split(':'))
            .FirstOrDefault(d => File.Exists(Path.Combine(d, "initdb")) && File.Exists(Path.Combine(d, "pg_ctl")))
        ?? throw new InvalidOperationException("PostgreSQL is not installed; ./check installs it.");

    private static void AsServerUser(string command)
    {
        if (Environment.UserName == "root")
        {
            Run("setpriv", "--reuid=nobody", "--regid=nogroup", "--clear-groups", "sh", "-c", "cd / && " + command);
        }
        else
        {
            Run("sh", "-c", command);
        }
    }

    private static void Run(string program, params string[] arguments)
    {
        using var process = Process.Start(program, arguments);
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
