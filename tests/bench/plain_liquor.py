"""The pH of a lye vat in plain floats: sodium against hydroxide, sulfite, sulfate and leuco-indigo."""

from __future__ import annotations

from math import exp, log, log10, sqrt

from tests.bench.plain_water import density

LN10 = log(10)


def water_product(t: float) -> float:
    """Give -log10 of the ion product, molal."""
    kelvin, d = t + 273.15, density(t) / 1000
    z = d * exp(-0.702132 + 8681.05 / kelvin - 24145.1 / kelvin**2 * d ** (2 / 3))
    liquid = -12 * (log10(1 + z) - z / (1 + z) * d * (0.813876 - 51.4471 / kelvin - 0.46992 * d))
    gas = -0.61415 - 48251.33 / kelvin + 67707.93 / kelvin**2 - 10102100 / kelvin**3
    return liquid - gas + 2 * log10(18.015268e-3)


def log_gamma(strength: float, t: float) -> float:
    """Davies, Pitzer for lye, and the way from one to the other."""
    warm = (87.740 + t * (-0.40008 + t * (9.398e-4 - 1.410e-6 * t))) * (t + 273.15)
    slope = 1.82481e6 * sqrt(density(t) / 1000) / (warm * sqrt(warm))
    root = sqrt(strength)
    davies = -slope * (root / (1 + root) - 0.3 * strength)
    if strength <= 0.15:
        return davies
    beta_0, beta_1 = 0.0864 + 7.00e-4 * (t - 25), 0.253 + 1.34e-4 * (t - 25)
    c_phi = 0.0044 - 1.894e-4 * (t - 25)
    electric = -slope * LN10 / 3 * (root / (1 + 1.2 * root) + 2 / 1.2 * log(1 + 1.2 * root))
    near = 1 - (1 + 2 * root - 2 * strength) * exp(-2 * root)
    pitzer = (electric + 2 * beta_0 * strength + beta_1 / 2 * near + 1.5 * c_phi * strength**2) / LN10
    part = min((strength - 0.15) / 0.1, 1.0)
    part = part * part * (3 - 2 * part)
    return (1 - part) * davies + part * pitzer


class Liquor:
    """Moles a kilogram of water, at one temperature; sodium may still be open."""

    def __init__(self, sodium: float, sulfite: float, sulfate: float, leuco: float, t: float) -> None:
        self.sodium, self.sulfite, self.sulfate, self.leuco, self.t = sodium, sulfite, sulfate, leuco, t
        self.pKw = water_product(t)
        moved = (1 / (t + 273.15) - 1 / 298.15) / (8.314463e-3 * LN10)
        self.pK1, self.pK2 = 1.857 - 17.80 * moved, 7.172 - 3.65 * moved

    def at(self, pH: float, strength: float) -> tuple[float, float, float]:
        """Negative charges less hydrogen's, their slope with pH, and the sum of z2 m without sodium."""
        gamma = log_gamma(strength, self.t)
        hydrogen = 10 ** (-pH - gamma)
        hydroxide = 10 ** (pH - self.pKw + log10(1 - 0.034 * strength) - gamma)
        s1 = 10 ** (pH - self.pK1 - gamma)
        s2 = s1 * 10 ** (pH - self.pK2 - 3 * gamma)
        l1 = 10 ** (pH - 7.97)
        l2 = l1 * 10 ** (pH - 12.68)
        sulfite, leuco = self.sulfite / (1 + s1 + s2), self.leuco / (1 + l1 + l2)
        one, two = sulfite * s1 + leuco * l1, sulfite * s2 + leuco * l2
        charge = hydroxide + 2 * self.sulfate + one + 2 * two - hydrogen
        return charge, LN10 * (hydroxide + hydrogen), hydrogen + hydroxide + 4 * self.sulfate + one + 4 * two

    def pH(self) -> float:
        """Balance the charges."""
        strength, pH = self.sodium, self.pKw + log10(self.sodium)
        for _ in range(50):
            for _ in range(50):
                charge, slope, squares = self.at(pH, strength)
                step = (self.sodium - charge) / slope
                pH += max(min(step, 1.0), -1.0)
                if abs(step) < 1e-10:
                    break
            new = (squares + self.sodium) / 2
            if abs(new - strength) < 1e-10:
                break
            strength = new
        return pH

    def sodium_for(self, pH: float) -> float:
        """Moles of sodium, a kilogram of water, that bring it to a pH."""
        strength = 0.01
        for _ in range(50):
            charge, _, squares = self.at(pH, strength)
            new = (squares + charge) / 2
            if abs(new - strength) < 1e-12:
                break
            strength = new
        return charge
