"""Landed cost of invented sheets, worked apart from the program: values in Python's decimal, uncertainty by Python's own draws.

python3 landed.py > landed.json
"""
import json
import random
from decimal import Decimal as D, ROUND_HALF_UP

DRAWS = 60_000


def sheet(r, pairs):
    """One invented sheet; half of the lines are priced in EUR, half of them stand on one price list."""
    lines = []
    for i in range(r.randint(3, 7)):
        per = r.choice(["m2", "m", "kg", "pair", "piece"])
        price = round(r.uniform(0.5, 20) if per in ("m2", "m") else r.uniform(1, 5) if per == "kg" else r.uniform(0.02, 0.3), 3)
        line = {"id": f"line-{i}", "component": f"part {i}", "material": f"stuff {i}", "price": {"value": price, "standardUncertainty": round(price * r.uniform(0.01, 0.06), 4)},
                "currency": r.choice(["USD", "EUR"]), "wastePct": {"value": r.randint(2, 30), "standardUncertainty": round(r.uniform(0.5, 2), 2)}, "wasteOf": r.choice(["net", "gross"])}
        line["per"] = per
        if per in ("m2", "m"):
            line["netAreaDm2"] = {"value": round(r.uniform(1, 14), 1), "standardUncertainty": 0.2}
        if per == "m":
            line["widthM"] = r.choice([1.1, 1.37, 1.5])
        if per == "kg":
            line["massG"] = {"value": r.randint(20, 420), "standardUncertainty": 4}
        if per == "piece":
            line["pieces"] = r.randint(1, 16)
        if r.random() < 0.5:
            line["priceList"] = "list"
        lines.append(line)
    price = lambda a, b: round(r.uniform(a, b), 2)
    return {
        "currency": "USD", "lines": lines, "volume": 24000, "shipmentPairs": pairs,
        "rates": [{"currency": "EUR", "rate": {"value": 1.08, "standardUncertainty": 0.02}, "on": "2026-11-02"}],
        "priceLists": [{"id": "list", "uncertaintyPct": 4}],
        "labour": [{"id": "making", "minutes": {"value": r.randint(20, 60), "standardUncertainty": 2}, "ratePerHour": price(2, 9)}],
        "overheadPct": {"value": r.randint(20, 90), "standardUncertainty": 4}, "overheadOn": r.choice(["labour", "labour-and-materials"]),
        "moulds": [{"id": "moulds", "cost": r.randint(4000, 40000)}],
        "factoryMarginPct": r.randint(4, 15), "factoryMarginOn": r.choice(["cost", "price"]),
        "freight": {"value": price(0.3, 1.6), "standardUncertainty": 0.1}, "insurancePct": 0.3,
        "dutyRate": {"adValoremPct": r.choice([8.5, 20, 37.5]), "specific": r.choice([0, 0.9]), "on": r.choice(["fob", "cif"])},
        "usFees": {"enteredOn": "2026-03-02", "transport": r.choice(["ocean", "air"])},
        "importerMarginPct": r.randint(20, 40), "retailMarginPct": r.randint(40, 55),
    }


def plain(x):
    return x["value"] if isinstance(x, dict) else x


def landed(s, take):
    """Walks the sheet; take(place, value) gives each input: itself, or a draw."""
    rate, lst = take("rate", s["rates"][0]["rate"]), take("list", {"value": 1, "standardUncertainty": s["priceLists"][0]["uncertaintyPct"] / 100})
    one = take("one", 1)
    materials = 0 * one
    for l in s["lines"]:
        g = lambda f: take(l["id"] + f, l[f])
        amount = g("price")
        if l["currency"] == "EUR":
            amount *= rate
        if "priceList" in l:
            amount *= lst
        if l["per"] in ("m2", "m"):
            amount = amount * g("netAreaDm2") / (100 * one)
        if l["per"] == "m":
            amount /= g("widthM")
        if l["per"] == "kg":
            amount = amount * g("massG") / (1000 * one)
        if l["per"] == "piece":
            amount *= g("pieces")
        waste = g("wastePct") / (100 * one)
        materials += amount * (one + waste) if l["wasteOf"] == "net" else amount / (one - waste)
    t = lambda f: take(f, s[f])
    work = s["labour"][0]
    labour = take("minutes", work["minutes"]) * take("hour", work["ratePerHour"]) / (60 * one)
    overhead = t("overheadPct") / (100 * one) * (labour if s["overheadOn"] == "labour" else labour + materials)
    made = materials + labour + overhead + take("moulds", s["moulds"][0]["cost"]) / t("volume")
    margin = t("factoryMarginPct") / (100 * one)
    fob = made * (one + margin) if s["factoryMarginOn"] == "cost" else made / (one - margin)
    freight = t("freight")
    cif = fob + freight + (fob + freight) * t("insurancePct") / (100 * one)
    d = s["dutyRate"]
    duty = take("adv", d["adValoremPct"]) / (100 * one) * (fob if d["on"] == "fob" else cif) + take("spec", d["specific"])
    pairs = t("shipmentPairs")
    # 19 CFR 24.23 and 24.24, fiscal year 2026: 90 FR 34665.
    processing = min(max(fob * pairs * take("mpf", 0.003464), take("least", 33.58)), take("most", 651.50)) / pairs
    harbour = fob * take("hmf", 0.00125) if s["usFees"]["transport"] == "ocean" else 0 * one
    return materials, fob, duty, processing, cif + duty + processing + harbour


def worked(s):
    return landed(s, lambda place, x: D(str(plain(x))))


def drawn(s, r):
    totals = []
    for _ in range(DRAWS):
        memory = {}

        def take(place, x):
            if not isinstance(x, dict):
                return float(x)
            if place not in memory:
                memory[place] = r.gauss(x["value"], x["standardUncertainty"])
            return memory[place]

        totals.append(landed(s, take)[-1])
    totals.sort()
    mean = sum(totals) / DRAWS
    deviation = (sum((t - mean) ** 2 for t in totals) / (DRAWS - 1)) ** 0.5
    return {"mean": mean, "deviation": deviation, "low": totals[int(0.025 * DRAWS)], "high": totals[int(0.975 * DRAWS)]}


def main():
    r = random.Random(20261125)
    cases = []
    for pairs in (60, 1200, 30000) * 2:
        s = sheet(r, pairs)
        materials, fob, duty, processing, total = worked(s)
        wholesale = total / (1 - D(s["importerMarginPct"]) / 100)
        cents = lambda x: str(x.quantize(D("0.01"), ROUND_HALF_UP))
        cases.append({"evidence": s, "materials": str(materials), "duty": str(duty), "processing": str(processing), "fob": cents(fob), "landed": cents(total),
                      "retail": cents(wholesale / (1 - D(s["retailMarginPct"]) / 100)), "drawn": drawn(s, r)})
    print(json.dumps({"source": "landed.py beside this file", "cases": cases}, indent=1))


main()
