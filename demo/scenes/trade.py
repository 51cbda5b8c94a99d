"""The duty worksheet and the cost sheet of the demo: every fact, price, minute and rate is invented."""


def about(value, share):
    return {"value": value, "standardUncertainty": round(value * share, 4)}


def minutes(value):
    """From one time study: whatever it is off by, all its minutes share."""
    return about(value, 0.08) | {"cause": "time-study"}


def line(name, component, material, price, per, **need):
    return {"id": name, "component": component, "material": material} | need | {"price": price, "per": per}


def share(name):
    return {"from": f"underfoot/left/share.{name}"}


def duty(build):
    """Every fact but the lead underfoot is stated, so that what the picture leaves open is all that is open. The price is agreed, and so exact."""
    no = ["slipOn", "openToe", "openHeel", "coversAnkle", "protective", "sports", "athletic", "houseSlipper", "metalToeCap", "waterproofWithoutStitching", "adhesiveOnlyWithoutOverlap", "disposable", "golf",
          "welt", "turned", "zori", "woolFeltSoleAndUpper", "skiOrSnowboard"]
    return {
        "market": "US", "unknown": "branch", "origin": "invented",
        "facts": {
            "upper": {"material": "textile", "fibre": "vegetable", "externalAreaPct": {"textile": about(54, 0.02), "leather": about(46, 0.02)},
                      "externalAreaWithAccessoriesPct": {"textile": about(50, 0.02), "leather": about(43, 0.02), "rubber-plastics": about(7, 0.1)}},
            "outerSole": {"groundContactPct": {"textile": share("textile"), "rubber-plastics": share("rubber")}, "base": "rubber-plastics", "note5Durable": False,
                          "note5Basis": "report MD-L-2 (invented): ISO 20871, textile worn through on three of three specimens"},
            "foxingLikeBand": {"present": True, "overlapInch": about(0.35, 0.05), "encirclementPct": 100},
            "wearer": "unisex", "closure": "laces", "weightPct": {"rubber-plastics": about(52, 0.03)},
        } | {fact: False for fact in no},
        "customsValue": {"value": {1: 11.2, 2: 11.1}[build], "currency": "USD"}, "volumePerYear": 18000,
        "entry": {"date": "2026-09-14" if build == 1 else "2026-09-28", "pairs": 1800, "transport": "sea"},
        "extraDuties": [{"name": "surcharge (invented)", "origin": "invented neighbour", "adValoremPct": 10, "from": "2026-06-01", "source": "invented for the demo"}],
    }


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
        "dutySheet": {"evidenceOf": "duty/main"},
        "usFees": {"enteredOn": "2026-09-14" if build == 1 else "2026-09-28", "transport": "ocean"},
        "importerMarginPct": 38, "retailMarginPct": 50,
        "changes": [
            {"id": "flax-doubles", "words": "flax doubles in a year (invented)", "lines": [{"id": "lining", "priceTimes": 2, "priceSharePct": about(45, 0.1)}]},
            {"id": "strobel", "words": "strobel sock for board (invented)", "labour": [{"id": "lasting-and-oven", "minutes": minutes(14)}],
             "strobel": {"board": ["insole"], "sock": line("sock", "Strobel sock", "nonwoven", about(2.2, 0.04), "m2", netAreaDm2=about(4.4, 0.02), gramsPerM2=260, wastePct=about(18, 0.1)),
                         "lasted": [{"line": "vamp", "sharePct": 45}, {"line": "quarter", "sharePct": 55}, {"line": "lining"}], "lessDm2": {"from": "section/forepart/lasting.difference"}},
             "oven": [{"layer": "sock", "thicknessMm": about(1.2, 0.05)}]},
            {"id": "felt-first", "words": "felt inlays widened to 58 % of the contact", "facts": {"outerSole": {"groundContactPct": {"textile": about(58, 0.02)}}}},
            {"id": "rubber-first", "words": "felt inlays narrowed to 42 % of the contact", "facts": {"outerSole": {"groundContactPct": {"textile": about(42, 0.02)}}}},
            {"id": "neighbour", "words": "made in another country (invented)", "origin": "invented neighbour", "labourRatePerHour": 3.1, "freightPerShipment": about(1900, 0.12)},
            {"id": "thermoplastic", "words": "outsole of thermoplastic rubber (invented)", "lines": [{"id": "outsole", "material": "TPR", "massG": about(385, 0.02), "price": about(1.6, 0.03)}]},
        ],
        "ovenSheet": {"evidenceOf": "oven/forepart"},
    }
