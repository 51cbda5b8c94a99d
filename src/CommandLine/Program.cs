using Pairbench.CommandLine;

return await Shell.RunAsync(args, new Terminal(Console.Out, Console.Error, TimeProvider.System));
