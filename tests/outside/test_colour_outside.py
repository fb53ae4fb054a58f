"""The colour arithmetic against a reference library (colour-science) and published pairs."""

from __future__ import annotations

import random
import warnings

import pytest

from vatside.catalogue.dyeing import shades
from vatside.chemistry.colour import BLUE, DAYLIGHT, GREEN, RED, WAVELENGTHS, WHITE, Lab, delta_e_2000, lab, srgb
from vatside.chemistry.shade import colour_of, ks_at_peak, spectrum

with warnings.catch_warnings():
    # It says at import which of its parts need matplotlib.
    warnings.simplefilter("ignore")
    import colour

EYE = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
DAY = colour.SDS_ILLUMINANTS["D65"]

SHARMA = (
    ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
    ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
    ((50.0, 2.8361, -74.0200), (50.0, 0.0, -82.7485), 3.4412),
    ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0009), 7.1792),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0011), 7.2195),
    ((50.0, 2.5, 0.0), (50.0, 0.0, -2.5), 4.3065),
    ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
)
"""Sharma, Wu & Dalal, Color Res. Appl. 30 (2005) 21, Table 1 (some of its pairs, from memory)."""


def random_labs(number: int) -> list[tuple[float, float, float]]:
    """Give colours all over the solid, always the same ones."""
    dice = random.Random(1931)
    return [(dice.uniform(0, 100), dice.uniform(-70, 70), dice.uniform(-70, 70)) for _ in range(number)]


@pytest.mark.parametrize(("mine", "column"), [(RED, 0), (GREEN, 1), (BLUE, 2)])
def test_the_eye_is_the_standard_one(mine: tuple[float, ...], column: int) -> None:
    """Each colour matching function agrees with the CIE table of the library at every wavelength."""
    for wavelength, value in zip(WAVELENGTHS, mine, strict=True):
        assert value == pytest.approx(EYE[float(wavelength)][column], abs=1e-6)


def test_daylight_is_d65() -> None:
    """The illuminant agrees with the CIE table of the library at every wavelength."""
    for wavelength, value in zip(WAVELENGTHS, DAYLIGHT, strict=True):
        assert value == pytest.approx(DAY[float(wavelength)], abs=1e-4)


def test_the_white_point_is_the_published_one() -> None:
    """CIE 15: D65 has x 0.3127, y 0.3290 for the observer of 2 degrees."""
    total = sum(WHITE)
    assert WHITE[0] / total == pytest.approx(0.3127, abs=1e-4)
    assert WHITE[1] / total == pytest.approx(0.3290, abs=1e-4)


@pytest.mark.parametrize(("one", "other", "published"), SHARMA)
def test_ciede2000_gives_the_published_pairs(
    one: tuple[float, float, float], other: tuple[float, float, float], published: float
) -> None:
    """The pairs on which CIEDE2000 programs are tested come out to four places."""
    assert delta_e_2000(Lab(*one), Lab(*other)) == pytest.approx(published, abs=1e-4)


def test_ciede2000_agrees_all_over_the_solid() -> None:
    """Two hundred pairs agree with the library to a millionth."""
    labs = random_labs(400)
    for one, other in zip(labs[:200], labs[200:], strict=True):
        assert delta_e_2000(Lab(*one), Lab(*other)) == pytest.approx(
            float(colour.delta_E(one, other, method="CIE 2000")), abs=1e-6
        )


def test_the_screen_agrees_with_the_library() -> None:
    """L*a*b* to sRGB agrees within one step of 255 for three hundred colours."""
    for values in random_labs(300):
        theirs = colour.XYZ_to_sRGB(colour.Lab_to_XYZ(values))
        for mine, part in zip(srgb(Lab(*values)), theirs, strict=True):
            assert mine == pytest.approx(255 * min(max(float(part), 0), 1), abs=1)


@pytest.mark.parametrize("group", shades())
@pytest.mark.parametrize("depth", [0.1, 0.8, 3.0])
def test_a_dyed_spectrum_gives_the_librarys_colour(group: str, depth: float) -> None:
    """L*a*b* of an indigo spectrum agrees with the library's sum over every nanometre, within a quarter unit."""
    seen = spectrum(depth, shades()[group])
    curve = colour.SpectralDistribution(dict(zip(WAVELENGTHS, seen, strict=True)))
    every_nm = colour.SpectralShape(380, 780, 1)
    eye, day = EYE.copy().align(every_nm), DAY.copy().align(every_nm)
    xyz = colour.sd_to_XYZ(curve.interpolate(every_nm), eye, day, method="Integration")
    theirs = colour.XYZ_to_Lab(xyz / 100)
    mine = lab(seen)
    assert (mine.L, mine.a, mine.b) == pytest.approx(tuple(float(part) for part in theirs), abs=0.25)


def test_a_light_and_a_dark_denim_lie_on_the_ladder() -> None:
    """A dyer of denim writes that a light shade has L 60 and a dark one L 30 (Shade control in indigo dyeing, part 2).

    Both are met between the palest and the deepest step of the ladder for cotton, the light one below 0.5 %.
    """
    cotton = shades()["cellulose"]
    assert colour_of(0.1, cotton).L > 60 > colour_of(0.5, cotton).L
    assert colour_of(1.5, cotton).L > 30 > colour_of(4, cotton).L


def test_a_deep_indigo_is_about_as_dark_as_published() -> None:
    """Park 2023: five dips (and one of yellow, which darkens) gave L* 22.7 with K/S of 15 or more."""
    cotton = shades()["cellulose"]
    depth = next(tenths / 10 for tenths in range(1, 200) if ks_at_peak(tenths / 10, cotton) >= 15)
    lightness = colour_of(depth, cotton).L
    assert lightness == pytest.approx(22.7, abs=9)
