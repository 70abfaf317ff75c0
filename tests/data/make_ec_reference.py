#!/usr/bin/env python3
"""Makes ec_reference.json: the conductivity of salt solutions by a second, independent model.

The conductivities come from PHREEQC 3.8.6, the geochemical model of the U.S. Geological Survey,
with its own database phreeqc.dat. It takes each ion's current from a diffusion coefficient and a
viscosity, not from the polynomials the crate uses, so that the two share no coefficients apart from
the stability constants of the ion pairs.

    python3 -m venv venv
    venv/bin/pip install phreeqc==1.1.1
    venv/bin/python tests/data/make_ec_reference.py > tests/data/ec_reference.json

The tests only read the JSON file; nothing else needs Python.

Every solution is given in grams of salt per litre of solution. The pH is whatever balances the
charges, nothing leaves as a gas, nothing settles out. Urea takes no part in PHREEQC and carries no
current: it is added to some recipes to see that the crate leaves the conductivity alone.
"""

import json
import sys

from phreeqc import Phreeqc

# Conventional atomic weights, CIAAW 2021.
H, C, N, O, NA, MG = 1.008, 12.011, 14.007, 15.999, 22.990, 24.305
P, S, CL, K, CA = 30.974, 32.06, 35.45, 39.098, 40.078
WATER = 2 * H + O
NO3, SO4, NH4 = N + 3 * O, S + 4 * O, N + 4 * H

# name: (grams per mole, PHREEQC's totals per mole)
SALTS = {
    "ammonium bicarbonate": (NH4 + H + C + 3 * O, {"N(-3)": 1, "C(4)": 1}),
    "ammonium nitrate": (NH4 + NO3, {"N(-3)": 1, "N(5)": 1}),
    "ammonium sulfate": (2 * NH4 + SO4, {"N(-3)": 2, "S(6)": 1}),
    "calcium chloride": (CA + 2 * CL, {"Ca": 1, "Cl": 2}),
    "calcium nitrate tetrahydrate": (CA + 2 * NO3 + 4 * WATER, {"Ca": 1, "N(5)": 2}),
    "diammonium phosphate": (2 * NH4 + H + P + 4 * O, {"N(-3)": 2, "P": 1}),
    "dipotassium phosphate": (2 * K + H + P + 4 * O, {"K": 2, "P": 1}),
    "epsom salt": (MG + SO4 + 7 * WATER, {"Mg": 1, "S(6)": 1}),
    "gypsum": (CA + SO4 + 2 * WATER, {"Ca": 1, "S(6)": 1}),
    "magnesium nitrate hexahydrate": (MG + 2 * NO3 + 6 * WATER, {"Mg": 1, "N(5)": 2}),
    "monoammonium phosphate": (NH4 + 2 * H + P + 4 * O, {"N(-3)": 1, "P": 1}),
    "monopotassium phosphate": (K + 2 * H + P + 4 * O, {"K": 1, "P": 1}),
    "potassium bicarbonate": (K + H + C + 3 * O, {"K": 1, "C(4)": 1}),
    "potassium chloride": (K + CL, {"K": 1, "Cl": 1}),
    "potassium nitrate": (K + NO3, {"K": 1, "N(5)": 1}),
    "potassium sulfate": (2 * K + SO4, {"K": 2, "S(6)": 1}),
    "sodium bicarbonate": (NA + H + C + 3 * O, {"Na": 1, "C(4)": 1}),
    "sodium chloride": (NA + CL, {"Na": 1, "Cl": 1}),
    "sodium nitrate": (NA + NO3, {"Na": 1, "N(5)": 1}),
    "urea": (C + O + 2 * N + 4 * H, {}),
}
SHORT = {
    "abc": "ammonium bicarbonate",
    "an": "ammonium nitrate",
    "as": "ammonium sulfate",
    "cn": "calcium nitrate tetrahydrate",
    "dap": "diammonium phosphate",
    "epsom": "epsom salt",
    "gypsum": "gypsum",
    "mn": "magnesium nitrate hexahydrate",
    "map": "monoammonium phosphate",
    "mkp": "monopotassium phosphate",
    "kbc": "potassium bicarbonate",
    "kcl": "potassium chloride",
    "kno3": "potassium nitrate",
    "k2so4": "potassium sulfate",
    "nabc": "sodium bicarbonate",
    "nacl": "sodium chloride",
    "urea": "urea",
}

# Single salts in the range a can may hold.
SINGLE_STRENGTHS = (0.3, 1.0, 2.0, 4.0)
SINGLES = [name for name in SALTS if name not in ("urea", "gypsum", "potassium bicarbonate")]

# Mixes, g/L, at several temperatures. They stand for soluble feeds of many makes, for the two
# tanks of a glasshouse, for feeds after their urea has become ammonium bicarbonate, and for feeds
# made up in hard or salty water.
MIXES = [
    (25, {"urea": 0.5, "mkp": 0.3}),
    (25, {"urea": 0.35, "map": 0.13, "kcl": 0.25}),
    (25, {"urea": 0.3, "kno3": 0.4, "map": 0.3}),
    (25, {"an": 0.57, "kno3": 0.18, "map": 0.13, "kcl": 0.12}),
    (25, {"an": 1.14, "kno3": 0.36, "map": 0.26, "kcl": 0.24}),
    (25, {"an": 0.5, "map": 0.16, "kcl": 0.32}),
    (25, {"as": 0.66, "map": 0.08, "kcl": 0.24}),
    (25, {"as": 1.32, "map": 0.16, "kcl": 0.48}),
    (25, {"as": 0.38, "map": 0.16, "kcl": 0.16}),
    (25, {"kno3": 0.7, "map": 0.2}),
    (25, {"kno3": 1.5, "map": 0.5, "epsom": 0.5}),
    (25, {"kno3": 0.5, "mkp": 0.5}),
    (25, {"kno3": 1.0, "mkp": 1.0, "epsom": 1.0}),
    (25, {"cn": 1.0, "kno3": 0.5}),
    (25, {"cn": 2.0, "kno3": 1.0, "an": 0.2}),
    (25, {"cn": 1.0, "k2so4": 1.0}),
    (25, {"cn": 1.0, "kno3": 0.5, "epsom": 0.5, "mkp": 0.2}),
    (25, {"cn": 0.7, "mn": 0.3, "kno3": 0.5, "mkp": 0.15}),
    (25, {"as": 0.5, "k2so4": 0.5}),
    (25, {"as": 1.0, "k2so4": 1.0, "epsom": 0.5}),
    (25, {"as": 0.5, "epsom": 1.0}),
    (25, {"k2so4": 0.6, "epsom": 0.4}),
    (25, {"epsom": 1.0, "kcl": 0.5}),
    (25, {"epsom": 2.0, "an": 0.3}),
    (25, {"dap": 0.5, "kcl": 0.5}),
    (25, {"dap": 0.4, "kno3": 0.6}),
    (25, {"dap": 0.3, "as": 0.5, "k2so4": 0.5}),
    (25, {"map": 0.3, "dap": 0.3, "kno3": 0.5}),
    (25, {"map": 1.0, "kcl": 1.0, "an": 1.0, "as": 1.0}),
    (25, {"abc": 0.9, "map": 0.13, "kcl": 0.25}),
    (25, {"abc": 1.8, "map": 0.26, "kcl": 0.5}),
    (25, {"abc": 0.8, "kno3": 0.3, "mkp": 0.2}),
    (25, {"abc": 0.5, "an": 0.3, "k2so4": 0.3}),
    (25, {"abc": 0.5, "as": 0.3, "kcl": 0.2}),
    (25, {"kno3": 0.7, "nacl": 0.3, "nabc": 0.3}),
    (25, {"an": 0.4, "map": 0.1, "kcl": 0.2, "gypsum": 0.3, "nacl": 0.2}),
    (25, {"kno3": 0.5, "nacl": 1.0, "epsom": 0.5}),
    (10, {"an": 0.57, "kno3": 0.18, "map": 0.13, "kcl": 0.12}),
    (10, {"as": 0.66, "map": 0.08, "kcl": 0.24}),
    (10, {"kno3": 0.7, "map": 0.2}),
    (10, {"cn": 1.0, "kno3": 0.5, "epsom": 0.5, "mkp": 0.2}),
    (10, {"epsom": 1.0, "kno3": 0.5}),
    (10, {"abc": 0.9, "map": 0.13, "kcl": 0.25}),
    (15, {"an": 0.5, "map": 0.16, "kcl": 0.32}),
    (15, {"as": 1.0, "k2so4": 0.5, "mkp": 0.3}),
    (15, {"kno3": 1.0, "mkp": 1.0, "epsom": 1.0}),
    (15, {"dap": 0.4, "kcl": 0.4, "urea": 0.3}),
    (15, {"cn": 1.5, "kno3": 0.7}),
    (20, {"an": 1.14, "kno3": 0.36, "map": 0.26, "kcl": 0.24}),
    (20, {"as": 0.5, "epsom": 1.0, "kno3": 0.5}),
    (20, {"kno3": 0.5, "map": 0.3, "urea": 0.4}),
    (20, {"abc": 0.8, "kno3": 0.3, "mkp": 0.2}),
    (20, {"k2so4": 1.0, "mkp": 0.5, "an": 0.5}),
    (20, {"cn": 0.7, "mn": 0.3, "kno3": 0.5, "mkp": 0.15}),
    (30, {"an": 0.57, "kno3": 0.18, "map": 0.13, "kcl": 0.12}),
    (30, {"as": 0.66, "map": 0.08, "kcl": 0.24}),
    (30, {"kno3": 1.5, "map": 0.5, "epsom": 0.5}),
    (30, {"abc": 0.9, "map": 0.13, "kcl": 0.25}),
    (30, {"cn": 1.0, "kno3": 0.5, "epsom": 0.5, "mkp": 0.2}),
    (30, {"dap": 0.4, "kno3": 0.6}),
]

# Solutions that may drop gypsum or struvite: recipe and pH, 25 degrees.
SATURATIONS = [
    ({"gypsum": 1.0}, 7.0),
    ({"gypsum": 2.5}, 7.0),
    ({"cn": 1.0, "k2so4": 1.0}, 6.0),
    ({"cn": 5.0, "k2so4": 5.0}, 6.0),
    ({"epsom": 1.0, "map": 0.5}, 5.5),
    ({"epsom": 1.0, "map": 0.5}, 7.0),
    ({"epsom": 1.0, "map": 0.5}, 8.5),
    ({"epsom": 2.0, "map": 1.0, "an": 1.0}, 7.5),
]

# log K of struvite, Ohlinger et al. 1998, which phreeqc.dat does not hold.
STRUVITE = """PHASES
Struvite
 MgNH4PO4:6H2O = Mg+2 + NH4+ + PO4-3 + 6 H2O
 log_k -13.26
END
"""


def totals_of(recipe):
    """Totals in mmol/L, by PHREEQC's names, of grams per litre of salts."""
    totals = {}
    for name, grams in recipe.items():
        molar_mass, parts = SALTS[name]
        for part, count in parts.items():
            totals[part] = totals.get(part, 0.0) + grams / molar_mass * 1000 * count
    return totals


def conductivity(engine, recipe, celsius):
    """Specific conductance in uS/cm, ionic strength in mol/kg and pH of grams per litre of salts."""
    totals = totals_of(recipe)
    lines = ["SOLUTION 1", f" temp {celsius}", " pH 7 charge", " density 1 calculate", " units mmol/L"]
    lines += [f" {part} {amount:.12g}" for part, amount in sorted(totals.items())]
    lines += ["SELECTED_OUTPUT 1", " -reset false", "USER_PUNCH 1", " -headings sc mu ph"]
    lines += [" 10 PUNCH SC, MU, -LA('H+')", "END"]
    errors = engine.RunString("\n".join(lines))
    if errors:
        sys.exit(engine.GetErrorString())
    answer = engine.GetSelectedOutput()
    return answer["sc"][-1], answer["mu"][-1], answer["ph"][-1]


def saturation(engine, recipe, ph):
    """Saturation indices (log) of gypsum and struvite at 25 degrees and a given pH."""
    lines = ["SOLUTION 1", " temp 25", f" pH {ph}", " density 1 calculate", " units mmol/L"]
    lines += [f" {part} {amount:.12g}" for part, amount in sorted(totals_of(recipe).items())]
    lines += ["SELECTED_OUTPUT 1", " -reset false", "USER_PUNCH 1", " -headings gypsum struvite"]
    lines += [" 10 PUNCH SI('Gypsum'), SI('Struvite')", "END"]
    if engine.RunString("\n".join(lines)):
        sys.exit(engine.GetErrorString())
    answer = engine.GetSelectedOutput()
    return answer["gypsum"][-1], answer["struvite"][-1]


def main():
    """Prints the reference as JSON."""
    engine = Phreeqc()
    engine.LoadBuiltInDatabase("phreeqc.dat")
    recipes = [(t, {name: g}) for name in SINGLES for g in SINGLE_STRENGTHS for t in (25, 15)]
    recipes += [(t, {SHORT[s]: g for s, g in mix.items()}) for t, mix in MIXES]
    # Potassium chloride at 0.01 mol/L: to see that the reference itself keeps to the standards.
    recipes += [(t, {"potassium chloride": 0.01 * (K + CL)}) for t in (0, 10, 15, 20, 25, 30, 50)]
    cases = []
    for celsius, recipe in recipes:
        sc, mu, ph = conductivity(engine, recipe, celsius)
        cases.append(
            {
                "celsius": celsius,
                "grams_per_litre": recipe,
                "us_per_cm": round(sc, 1),
                "ionic_strength": round(mu, 6),
                "ph": round(ph, 2),
            }
        )
    engine.RunString(STRUVITE)
    saturations = []
    for short, ph in SATURATIONS:
        recipe = {SHORT[s]: g for s, g in short.items()}
        indices = saturation(engine, recipe, ph)
        names = {"gypsum": indices[0], "struvite": indices[1]}
        # PHREEQC gives -99.99 where a part of the mineral is missing.
        index = {name: round(value, 3) for name, value in names.items() if value > -90}
        saturations.append({"ph": ph, "grams_per_litre": recipe, "saturation_index": index})
    head = {
        "source": f"PHREEQC {engine.GetVersionString()}, database phreeqc.dat, by make_ec_reference.py",
    }
    lines = [",\n".join("    " + json.dumps(row) for row in rows) for rows in (cases, saturations)]
    print("{\n  " + json.dumps(head)[1:-1] + ',\n  "cases": [\n' + lines[0] + "\n  ],")
    print('  "saturations": [\n' + lines[1] + "\n  ]\n}")


if __name__ == "__main__":
    main()
