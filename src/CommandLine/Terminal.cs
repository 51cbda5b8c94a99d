namespace Pairbench.CommandLine;

/// <summary>What a command has round it: where results and messages go, and what day it is.</summary>
/// <param name="Out">Results only.</param>
/// <param name="Error">Progress, messages and faults.</param>
public sealed record Terminal(TextWriter Out, TextWriter Error, TimeProvider Clock);

/// <summary>What a command ends with.</summary>
public static class ExitCode
{
    /// <summary>Done, whatever the ruling.</summary>
    public const int Done = 0;

    /// <summary>Anything that is neither done nor wrong input.</summary>
    public const int Failed = 1;

    /// <summary>The input is wrong; one line for each fault stands on standard error.</summary>
    public const int WrongInput = 2;
}
