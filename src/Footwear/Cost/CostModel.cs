using System.Collections.Immutable;
using System.Numerics;

namespace Pairbench.Footwear.Cost;

/// <summary>How an input enters a product.</summary>
internal enum FactorKind
{
    /// <summary>x</summary>
    Times,

    /// <summary>1/x</summary>
    Over,

    /// <summary>1 + x/100</summary>
    OnTop,

    /// <summary>1/(1 - x/100)</summary>
    ShareOfResult,

    /// <summary>1 + s/100 (x - 1): the share s of the price goes x times</summary>
    ShareTimes,
}

/// <param name="Input">Place among the inputs.</param>
/// <param name="Share">Place of the share, for <see cref="FactorKind.ShareTimes"/>.</param>
internal readonly record struct Factor(FactorKind Kind, int Input, int Share = 0)
{
    public T Of<T>(ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var x = inputs[Input];
        var hundred = T.CreateChecked(100);
        return Kind switch
        {
            FactorKind.Times => x,
            FactorKind.Over => T.One / x,
            FactorKind.OnTop => T.One + (x / hundred),
            FactorKind.ShareOfResult => hundred / (hundred - x),
            _ => T.One + (inputs[Share] / hundred * (x - T.One)),
        };
    }
}

/// <summary>A product: an amount of money per pair.</summary>
/// <param name="Divisor">A whole number that turns units into each other.</param>
internal sealed record Term(int Divisor, ImmutableArray<Factor> Factors)
{
    public T Of<T>(ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var product = T.One;
        foreach (var factor in Factors)
        {
            product *= factor.Of(inputs);
        }

        return product / T.CreateChecked(Divisor);
    }
}

/// <summary>A named term.</summary>
/// <param name="Price">Place of its price among the inputs.</param>
internal sealed record Item(string Id, string Label, Term Term, int Price);

/// <summary>A charge per pair: a term, or a share of the value of the shipment held between a least and a most.</summary>
internal abstract record Fee(string Id)
{
    public abstract T Of<T>(ReadOnlySpan<T> inputs, T fob, T cif)
        where T : INumber<T>;

    public sealed record Amount(string Id, Term Term) : Fee(Id)
    {
        public override T Of<T>(ReadOnlySpan<T> inputs, T fob, T cif) => Term.Of(inputs);
    }

    /// <param name="Pairs">Place of the pairs of a shipment; below zero where nothing is held.</param>
    /// <param name="Rate">What one unit of the currency of least and most is worth; below zero where that is the currency of the sheet.</param>
    public sealed record Share(string Id, int Pct, ValueBasis On, int Pairs, int Rate, decimal? Min, decimal? Max) : Fee(Id)
    {
        public override T Of<T>(ReadOnlySpan<T> inputs, T fob, T cif)
        {
            var perPair = inputs[Pct] / T.CreateChecked(100) * (On == ValueBasis.Fob ? fob : cif);
            if (Pairs < 0)
            {
                return perPair;
            }

            var unit = (Rate < 0 ? T.One : inputs[Rate]) / inputs[Pairs];
            var held = Max is { } most ? T.Min(perPair, T.CreateChecked(most) * unit) : perPair;
            return Min is { } least ? T.Max(held, T.CreateChecked(least) * unit) : held;
        }
    }
}

/// <summary>A margin or share on top; nothing where <see cref="Input"/> is below zero.</summary>
internal readonly record struct Margin(int Input, MarginBasis On)
{
    public static Margin None => new(-1, MarginBasis.Cost);

    /// <summary>The margin on a cost, as an amount.</summary>
    public T Of<T>(ReadOnlySpan<T> inputs, T cost)
        where T : INumber<T>
    {
        if (Input < 0)
        {
            return T.Zero;
        }

        var hundred = T.CreateChecked(100);
        return On == MarginBasis.Cost ? cost * inputs[Input] / hundred : cost * inputs[Input] / (hundred - inputs[Input]);
    }
}

/// <summary>What one pair costs, step by step.</summary>
internal readonly record struct Steps<T>(T Materials, T Labour, T Overhead, T Moulds, T FactoryMargin, T Freight, T Insurance, T Duty, T Fees, T ImporterMargin, T RetailMargin)
    where T : INumber<T>
{
    public T Fob => Materials + Labour + Overhead + Moulds + FactoryMargin;

    public T Landed => Fob + Freight + Insurance + Duty + Fees;

    public T Wholesale => Landed + ImporterMargin;

    public T Retail => Wholesale + RetailMargin;
}

/// <summary>A customs value that is stated.</summary>
/// <param name="Sheet">Of a changed sheet: the sheet it came from; the value moves by what its own value moves against that. Null for the sheet itself.</param>
internal sealed record StatedCustoms(Term Value, CostModel? Sheet);

/// <summary>
/// The sheet as a formula over its inputs, the same in decimals (money) and in doubles (propagation). Currency, pairs, per cent: every unit
/// is settled when the formula is made.
/// </summary>
internal sealed record CostModel(
    ImmutableArray<Item> Materials,
    ImmutableArray<Item> Labour,
    Margin Overhead,
    OverheadBasis OverheadOn,
    ImmutableArray<Item> Moulds,
    Margin FactoryMargin,
    ImmutableArray<Term> Freight,
    ImmutableArray<Term> Insurance,
    Margin InsuranceShare,
    ImmutableArray<Term> Duty,
    Margin DutyShare,
    ValueBasis DutyOn,
    ImmutableArray<Fee> Fees,
    Margin ImporterMargin,
    Margin RetailMargin,
    StatedCustoms? Customs = null)
{
    public Steps<T> Evaluate<T>(ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var (materials, labour, moulds) = (Sum(Materials, inputs), Sum(Labour, inputs), Sum(Moulds, inputs));
        var overhead = Overhead.Of(inputs, OverheadOn == OverheadBasis.Labour ? labour : labour + materials);
        var made = materials + labour + overhead + moulds;
        var factory = FactoryMargin.Of(inputs, made);
        var fob = made + factory;
        var freight = Sum(Freight, inputs);
        var insurance = Sum(Insurance, inputs) + InsuranceShare.Of(inputs, fob + freight);
        var cif = fob + freight + insurance;
        var customs = CustomsOf(inputs, DutyOn == ValueBasis.Fob ? fob : cif);
        var duty = Sum(Duty, inputs) + DutyShare.Of(inputs, customs);
        var fees = T.Zero;
        foreach (var fee in Fees)
        {
            fees += fee.Of(inputs, DutyOn == ValueBasis.Fob ? customs : fob, DutyOn == ValueBasis.Cif ? customs : cif);
        }

        var landed = cif + duty + fees;
        var importer = ImporterMargin.Of(inputs, landed);
        return new(materials, labour, overhead, moulds, factory, freight, insurance, duty, fees, importer, RetailMargin.Of(inputs, landed + importer));
    }

    /// <summary>What a share of duty is taken of.</summary>
    public T CustomsOf<T>(ReadOnlySpan<T> inputs)
        where T : INumber<T> => CustomsOf(inputs, OwnValue(inputs));

    private T CustomsOf<T>(ReadOnlySpan<T> inputs, T own)
        where T : INumber<T> => Customs is not { } stated ? own
            : stated.Value.Of(inputs) + (stated.Sheet is { } sheet ? own - sheet.OwnValue(inputs) : T.Zero);

    private T OwnValue<T>(ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var steps = Evaluate(inputs);
        return DutyOn == ValueBasis.Fob ? steps.Fob : steps.Fob + steps.Freight + steps.Insurance;
    }

    /// <summary>One fee per pair.</summary>
    public T Of<T>(Fee fee, ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var (steps, customs) = (Evaluate(inputs), CustomsOf(inputs));
        return fee.Of(inputs, DutyOn == ValueBasis.Fob ? customs : steps.Fob, DutyOn == ValueBasis.Cif ? customs : steps.Fob + steps.Freight + steps.Insurance);
    }

    private static T Sum<T>(ImmutableArray<Item> items, ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var sum = T.Zero;
        foreach (var item in items)
        {
            sum += item.Term.Of(inputs);
        }

        return sum;
    }

    private static T Sum<T>(ImmutableArray<Term> terms, ReadOnlySpan<T> inputs)
        where T : INumber<T>
    {
        var sum = T.Zero;
        foreach (var term in terms)
        {
            sum += term.Of(inputs);
        }

        return sum;
    }
}
