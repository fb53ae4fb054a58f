"""PHREEQC as a check: the species that its database lacks, and the pH that it gives a bath."""

from __future__ import annotations

from phreeqpython import PhreeqPython

from vatside.chemistry.bath import Bath

OWN_SPECIES = """
SOLUTION_MASTER_SPECIES
    Leuco  LeucoH2 0 264 264
    Sulfi  H2Sulfi 0 82 82
    Acet   HAcet   0 60 60
    Citr   H3Citr  0 192 192
    Ammo   Ammo    0 17 17
    Ferro  Ferro+2 0 55.845 55.845
SOLUTION_SPECIES
    Na+ + CO3-2 = NaCO3-
        log_k -30
    Na+ + HCO3- = NaHCO3
        log_k -30
    LeucoH2 = LeucoH2
        log_k 0
    LeucoH2 = LeucoH- + H+
        log_k -7.97
        -gamma 1e9 0
    LeucoH2 = Leuco-2 + 2 H+
        log_k -20.65
        -gamma 1e9 0
    H2Sulfi = H2Sulfi
        log_k 0
    H2Sulfi = HSulfi- + H+
        log_k -1.857
        delta_h -17.80 kJ
    H2Sulfi = Sulfi-2 + 2 H+
        log_k -9.029
        delta_h -21.45 kJ
    HAcet = HAcet
        log_k 0
    HAcet = Acet- + H+
        -analytical_expression 3.1649 -0.013399 -1170.48
    H3Citr = H3Citr
        log_k 0
    H3Citr = H2Citr- + H+
        -analytical_expression 4.5635 -0.011673 -1255.6
    H3Citr = HCitr-2 + 2 H+
        -analytical_expression 10.0095 -0.028072 -2840.8
    H3Citr = Citr-3 + 3 H+
        -analytical_expression 16.3759 -0.050461 -4655.7
    Ca+2 + Citr-3 = CaCitr-
        log_k 4.87
    Ca+2 + H+ + Citr-3 = CaHCitr
        log_k 9.26
    Ca+2 + 2 H+ + Citr-3 = CaH2Citr+
        log_k 12.257
    Ca+2 + Acet- = CaAcet+
        log_k 1.18
    Ammo = Ammo
        log_k 0
    Ammo + H+ = AmmoH+
        log_k 9.244
        delta_h -52.2 kJ
    Ferro+2 = Ferro+2
        log_k 0
    Ferro+2 + H2O = FerroOH+ + H+
        log_k -9.5
        delta_h 13.2 kcal
    Ferro+2 + SO4-2 = FerroSO4
        log_k 2.25
        delta_h 3.23 kcal
PHASES
    FerrousHydroxide
        Ferro(OH)2 = Ferro+2 + 2 OH-
        log_k -15.1
    Lime
        Ca(OH)2 = Ca+2 + 2 OH-
        log_k -5.19
        delta_h -16.7 kJ
    CalciumCitrate
        Ca3Citr2(H2O)4 = 3 Ca+2 + 2 Citr-3 + 4 H2O
        log_k -17.81
    Brucite
        Mg(OH)2 = Mg+2 + 2 OH-
        log_k -10.88
        delta_h 4.85 kcal
END
"""
"""Ferrous iron is kept apart from the iron of the database, which its sulfate would oxidise: FeOH+ and FeSO4 as there,
the hydroxide's pKsp among 14.4 to 16.3 of common tables. Lime: pitzer.dat, its heat from the heats of formation of the
NBS tables (both from memory)."""

SLOW = "    Calcite 0 0\n    Brucite 0 0\n    CalciumCitrate 0 0\n"
"""The solids that settle or stay, as PHREEQC names them."""

PHREEQC_NAMES = {
    "sodium": "Na",
    "calcium": "Ca",
    "magnesium": "Mg",
    "ammonia": "Ammo",
    "ferrous": "Ferro",
    "carbonate": "C(4)",
    "sulfite": "Sulfi",
    "acetate": "Acet",
    "citrate": "Citr",
    "leuco": "Leuco",
    "sulfate": "S(6)",
    "strong_anions": "Cl",
}


def phreeqc(program: PhreeqPython, bath: Bath, phases: str = "") -> float:
    """PH of a bath by PHREEQC, with solids that may dissolve or settle."""
    totals = {name: getattr(bath, total) / bath.water_kg for total, name in PHREEQC_NAMES.items()}
    return pH_of(program, {name: amount for name, amount in totals.items() if amount}, bath.temperature_C, phases)


def pH_of(program: PhreeqPython, molal: dict[str, float], celsius: float, phases: str, first: float = 7) -> float:
    """PH of a solution by PHREEQC, from its totals (mol/kg, by PHREEQC's names); the search begins at `first`."""
    lines = "".join(f"    {name} {amount!r}\n" for name, amount in molal.items())
    program.ip.run_string(
        f"SOLUTION 1\n    temp {celsius}\n    units mol/kgw\n    pH {first} charge\n{lines}END\n"
        f"USE solution 1\nEQUILIBRIUM_PHASES 1\n{phases}\n"
        "SELECTED_OUTPUT\n    -reset false\n    -pH true\nEND\n"
    )
    return float(program.ip.get_selected_output_array()[-1][0])
