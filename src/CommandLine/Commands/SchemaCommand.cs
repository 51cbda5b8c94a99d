using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>schema [EXAMINATION]</c>: the JSON Schema of the evidence, or of the review file.</summary>
internal static class SchemaCommand
{
    public static Command Create(Terminal terminal)
    {
        var name = new Argument<string?>("EXAMINATION") { Description = "an examination; the review file if left out", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("schema", "Prints the JSON Schema of an examination's evidence, or of the review file.") { name };
        command.SetAction(parsed =>
        {
            var schema = parsed.GetValue(name) is { } examination
                ? ShapeSchema.Of(ExaminationNamed(examination).EvidenceType, $"Evidence of {examination}")
                : ShapeSchema.Of(typeof(Review), "Review file");
            terminal.Out.WriteLine(DocumentText.Of(schema));
            return ExitCode.Done;
        });
        return command;
    }

    /// <exception cref="FaultsException">There is no such examination.</exception>
    internal static Examination ExaminationNamed(string name) => Examination.Named(name)
        ?? throw new FaultsException(new Fault(name, "is no examination of this program", $"use one of {string.Join(", ", Examination.All.Select(e => e.Name))}"));
}
