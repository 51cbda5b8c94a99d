namespace Pairbench.Footwear.Shapes;

/// <summary>A record whose fields have to agree with one another and with the world; the reader asks once each of them has its shape.</summary>
internal interface IAgreeing
{
    /// <param name="where">Place of the record; empty for a whole file.</param>
    IEnumerable<Fault> Disagreements(string where);
}
