"""The cost sheet of the demo: every price, minute and rate is invented."""


def about(value, share):
    return {"value": value, "standardUncertainty": round(value * share, 4)}


def minutes(value):
    """From one time study: whatever it is off by, all its minutes share."""
    return about(value, 0.08) | {"cause": "time-study"}


def line(name, component, material, price, per, **need):
    return {"id": name, "component": component, "material": material} | need | {"price": price, "per": per}


def cost(build):
    return {
        "currency": "USD", "pricedOn": {1: "2026-08-10", 2: "2026-09-21"}[build], "volume": 18000, "shipmentPairs": 1800,
        "rates": [{"currency": "EUR", "rate": about(1.09, 0.02), "on": "2026-08-07"}],
        "priceLists": [{"id": "weaver-invented", "uncertaintyPct": 5, "supplier": "Weaver 3 (invented)"}],
        "lines": [
            line("vamp", "Vamp and tongue", "sand suede", about(19.5, 0.03), "m2", netAreaDm2=about(6.2, 0.02), gramsPerM2=900, wastePct=about(22, 0.1)),
            line("quarter", "Quarters", "olive twill", 4.8, "m2", netAreaDm2=about(7.4, 0.02), gramsPerM2=340, wastePct=about(14, 0.1), priceList="weaver-invented"),
            line("lining", "Lining", "linen cloth", 3.9, "m2", netAreaDm2=about(9.1, 0.02), gramsPerM2=190, wastePct=about(15, 0.1), priceList="weaver-invented"),
            line("insole", "Insole", "board", about(3.1, 0.03), "m2", netAreaDm2=about(4.4, 0.02), gramsPerM2=950, wastePct=about(18, 0.1)),
            line("footbed", "Footbed", "foam with linen cover", about(0.42, 0.04), "pair", massG=38),
            line("outsole", "Outsole and foxing", {1: "moss rubber", 2: "black rubber"}[build], about({1: 1.95, 2: 1.8}[build], 0.04), "kg", currency="EUR", massG=about(410, 0.02), wastePct=9),
            line("inlay", "Outsole inlays", "sand felt", about(5.2, 0.05), "m2", netAreaDm2=about({1: 1.9, 2: 1.7}[build], 0.03), gramsPerM2=420, wastePct=30),
            line("eyelets", "Eyelets", "brass", about(0.011, 0.05), "piece", pieces=12, massG=7),
            line("laces", "Laces", "linen cord", about(0.12, 0.05), "pair", massG=9),
            line("box", "Box and paper", "board", about(0.46, 0.04), "pair"),
        ],
        "labour": [{"id": "cutting", "minutes": minutes(6), "ratePerHour": 4.4}, {"id": "stitching", "minutes": minutes(19), "ratePerHour": 4.4},
                   {"id": "lasting-and-oven", "minutes": minutes(16), "ratePerHour": 4.4}],
        "overheadPct": about(65, 0.08),
        "moulds": [{"id": "foxing-and-outsole-dies", "cost": 9800}],
        "factoryMarginPct": 9,
        "freightPerShipment": about(1450, 0.12), "insurancePct": 0.3,
        "dutyRate": {"adValoremPct": 20},
        "usFees": {"enteredOn": "2026-09-14" if build == 1 else "2026-09-28", "transport": "ocean"},
        "importerMarginPct": 38, "retailMarginPct": 50,
        "changes": [
            {"id": "flax-doubles", "words": "flax doubles in a year (invented)", "lines": [{"id": "lining", "priceTimes": 2, "priceSharePct": about(45, 0.1)}]},
            {"id": "strobel", "words": "strobel sock for board (invented)", "lines": [{"id": "insole", "material": "strobel sock, nonwoven", "price": about(2.2, 0.04), "gramsPerM2": 260}],
             "labour": [{"id": "lasting-and-oven", "minutes": minutes(14)}]},
            {"id": "other-line", "words": "another duty line (invented)", "dutyRate": {"adValoremPct": 12.5}},
        ],
    }
