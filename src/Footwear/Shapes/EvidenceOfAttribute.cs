namespace Pairbench.Footwear.Shapes;

/// <summary>In place of the record may stand <c>{ "evidenceOf": "examination/entry" }</c>: the evidence of another entry of the review, so that nothing is typed twice.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
public sealed class EvidenceOfAttribute(string examination) : Attribute
{
    /// <summary>The examination whose entries can be named.</summary>
    public string Examination => examination;
}
