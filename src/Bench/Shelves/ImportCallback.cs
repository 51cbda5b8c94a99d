using Microsoft.JSInterop;

namespace Pairbench.Bench.Shelves;

/// <summary>What the browser tells the shelf of a folder that was sent.</summary>
public sealed class ImportCallback(Action<string> refused)
{
    [JSInvokable]
    public void OnImportRefused(string words) => refused(words);
}
