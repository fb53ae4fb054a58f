"""Where the chemistry's formulas and constants come from, by the key that docstrings give in square brackets."""

from __future__ import annotations

from attrs import frozen


@frozen
class Source:
    """One reference, and how much of it was in front of us."""

    text: str
    seen: str
    """What was seen of the text itself, and what the numbers were compared with."""


MEMORY = "from memory"

SOURCES: dict[str, Source] = {
    "Kell1975": Source(
        "Kell G.S., J. Chem. Eng. Data 20 (1975) 97, eq. 16: density of water, 0 to 150 degrees C",
        "coefficients from memory; compared with IAPWS-95",
    ),
    "Popiel1998": Source(
        "Popiel C.O. & Wojtkowiak J., Heat Transfer Eng. 19(3) (1998) 87: heat capacity of water, 0 to 150 degrees C",
        "coefficients from memory; compared with IAPWS-95",
    ),
    "Buck1996": Source(
        "Buck A.L., J. Appl. Meteorol. 20 (1981) 1527, in the form of 1996: vapour pressure of water",
        "coefficients from memory; compared with IAPWS-95",
    ),
    "IAPWS-R11": Source(
        "IAPWS R11-24, Ionization Constant of H2O (revises R11-07; at most 0.002 apart below 100 degrees C)",
        "coefficients seen in a published program; compared with it",
    ),
    "Malmberg1956": Source(
        "Malmberg C.G. & Maryott A.A., J. Res. NBS 56 (1956) 1: dielectric constant of water, 0 to 100 degrees C",
        MEMORY,
    ),
    "CRCsolution": Source(
        "CRC Handbook of Chemistry and Physics, enthalpy of solution of electrolytes at infinite dilution: "
        "NaOH -44.51 kJ/mol",
        "from memory; CRC enthalpies of formation, seen, give -44.3",
    ),
    "Newton": Source(
        "Newton's law of cooling: the loss of heat is proportional to the difference from the air",
        "a law, worked out here; two readings of 0.5 degrees C each make the constant uncertain",
    ),
    "BensonKrause1984": Source(
        "Benson B.B. & Krause D., Limnol. Oceanogr. 29 (1984) 620, as in USGS TM 2011.03: 0 to 40 °C",
        "temperature coefficients seen in a secondary text, pressure factor from memory; compared with another fit",
    ),
    "Battino1981": Source(
        "Battino R., IUPAC Solubility Data Series 7 (1981): oxygen in water, 0 to 75 degrees C",
        MEMORY,
    ),
    "CIAAW": Source(
        "IUPAC/CIAAW standard atomic weights",
        "formula masses compared with a library of them",
    ),
    "Reactions": Source(
        "worked out from the balanced reactions of indigo, reducer and alkali",
        "balanced by hand for atoms and charge",
    ),
    "Svarovsky2000": Source(
        "Svarovsky S.A., Simoyi R.H. & Makarov S.V., J. Chem. Soc. Dalton Trans. (2000) 511: how it breaks up",
        "abstract seen",
    ),
    "Etters": Source(
        "Etters J.N. & Hou M., Text. Res. J. 61 (1991) 773; Etters J.N., J. Soc. Dyers Colour. 109 (1993) 251: "
        "pKa of leuco-indigo 7.97 and 12.68",
        "from memory; neither number was seen in a primary text, and the second may be off by 0.3",
    ),
    "Etters1996": Source(
        "Etters J.N., Indian J. Fibre Text. Res. 21 (1996) 30: the ionic form of the dye governs its uptake",
        "abstract seen",
    ),
    "Davies1962": Source(
        "Davies C.W., Ion Association (1962): log gamma = -A z^2 (sqrt I/(1 + sqrt I) - 0.3 I)",
        MEMORY,
    ),
    "PitzerMayorga1973": Source(
        "Pitzer K.S. & Mayorga G., J. Phys. Chem. 77 (1973) 2300: NaOH 0.0864, 0.253, 0.0044",
        "from memory; the same numbers are in PHREEQC's pitzer.dat",
    ),
    "SilvesterPitzer1978": Source(
        "Silvester L.F. & Pitzer K.S., J. Solution Chem. 7 (1978) 327: temperature terms of NaOH",
        "from memory; the same numbers are in PHREEQC's pitzer.dat",
    ),
    "GarrelsChrist1965": Source(
        "Garrels R.M. & Christ C.L., Solutions, Minerals and Equilibria (1965): activity of water = 1 - 0.017 sum of m",
        MEMORY,
    ),
    "Bates1956": Source(
        "Bates R.G., Bower V.E. & Smith E.R., J. Res. NBS 56 (1956) 305: pH of calcium hydroxide saturated at "
        "25 degrees C, 0.0203 mol/L",
        "abstract seen (0.0203 M, 12.45 at 25 degrees C, -0.033 a degree); the table of other temperatures from memory",
    ),
    "LimeFit": Source(
        "CaOH+ with log K 1.376 and 11.84 kJ/mol, and calcium hydroxide with pKsp 5.232 and -19.4 kJ/mol: effective "
        "values fitted to [Bates1956] and [LimeSolubility]",
        "a fit of our own, so it proves nothing about those tables; independent PHREEQC pitzer.dat agrees within 0.03",
    ),
    "LimeSolubility": Source(
        "CRC Handbook (older editions) and Lange's Handbook: g of calcium hydroxide in 100 g of water",
        "from memory; 0 to 40, 60 and 70 degrees C also seen on a secondary page; sources differ by 5 to 6 %",
    ),
    "Gypsum": Source(
        "Handbook solubility of gypsum, 2.6 g/L at 25 degrees C, as an effective pKsp without the ion pair: 4.37",
        "from memory; fitted here, and compared with PHREEQC phreeqc.dat",
    ),
    "IronHydroxide": Source(
        "Ferrous hydroxide, pKsp 15.1: common tables give 14.4 to 16.3",
        "from memory; matters only to liquor below about pH 9",
    ),
    "PlummerBusenberg1982": Source(
        "Plummer L.N. & Busenberg E., Geochim. Cosmochim. Acta 46 (1982) 1011: carbonic acid, 0 to 90 degrees C",
        "coefficients from memory; compared with the NBS carbonate standard",
    ),
    "StaplesBates1969": Source(
        "Staples B.R. & Bates R.G., J. Res. NBS 73A (1969) 37: 0.025 m NaHCO3 + 0.025 m Na2CO3",
        "10.012 at 25 degrees C seen in the abstract, other temperatures from memory",
    ),
    "HarnedEhlers1933": Source(
        "Harned H.S. & Ehlers R.W., J. Am. Chem. Soc. 55 (1933) 652: acetic acid, 0 to 60 degrees C",
        "coefficients from memory; they return 4.756 at 25 degrees C",
    ),
    "BatesPinching1949": Source(
        "Bates R.G. & Pinching G.D., J. Am. Chem. Soc. 71 (1949) 1274: citric acid, 0 to 50 degrees C",
        "coefficients from memory; they return 3.128, 4.760 and 6.396 at 25 degrees C",
    ),
    "Goldberg2002": Source(
        "Goldberg R.N. et al., J. Phys. Chem. Ref. Data 31 (2002) 231: sulfurous acid 1.857 and 7.172",
        "from memory; other tables put the second 0.05 away",
    ),
    "PHREEQC": Source(
        "Parkhurst D.L. & Appelo C.A.J., PHREEQC 3 (USGS), databases phreeqc.dat (bisulfate, ammonia, magnesium), "
        "pitzer.dat (magnesium hydroxide) and minteq.v4.dat (calcium with citrate and acetate)",
        "constants of phreeqc.dat and pitzer.dat read from the files; of minteq.v4.dat from a secondary text",
    ),
    "CalciumCitrate2018": Source(
        "calcium citrate, spontaneous supersaturation, J. Food Drug Anal. 26 (2018): log Ks -17.81 at 25 degrees C",
        "abstract seen; the salt lags hours to days behind",
    ),
    "Chalk": Source(
        "Mercer K.L., Lin Y.-P. & Singer P.C., J. AWWA (2005), calcite on seeds; softening plants give it 60 to 90 "
        "min; sulfite, dye and organic matter hinder it",
        "abstract and a secondary page seen, the last from memory; so settled and not settled are both shown",
    ),
    "Tap": Source(
        "Tap water of pH 7.6: 1.06 mol of carbonate an equivalent of alkalinity, by [PlummerBusenberg1982]; classes "
        "and alkalinity where only hardness is known",
        "the first worked out here; the classes and 0.8 are guesses",
    ),
    "USGShardness": Source(
        "USGS classes of hardness: up to 60, 120 and 180 mg/L of calcium carbonate",
        "seen on a secondary page",
    ),
    "Sander2023": Source(
        "Sander R., Compilation of Henry's law constants, Atmos. Chem. Phys. 15 (2015) 4399 and 23 (2023) 10901",
        "tables for sulfur dioxide and ammonia seen: 13 of 15 values for the first within 1.2 to 1.4 mol/(L atm)",
    ),
    "NIOSH": Source(
        "NIOSH: sulfur dioxide REL 2 ppm, short term 5 ppm, immediately dangerous 100 ppm",
        "page on sulfur dioxide seen",
    ),
    "ECHA": Source(
        "ECHA registration dossier of sodium dithionite, reactions after Muenchow 1992",
        "reactions seen",
    ),
    "Buffered": Source(
        "1080 wool and silk vats worked out with PHREEQC 3, phreeqc.dat (sodium-carbonate pairs off) and pitzer.dat: "
        "thiourea dioxide 0.14 to 2.9 g/L, indigotin 0.04 to 0.86 g/L, water 40 to 400 mg/L, chalk settled or not",
        "computed, no vat was measured; the tables are repeated in the tests",
    ),
    "ListerGarvie1959": Source(
        "Lister M.W. & Garvie R.C., Can. J. Chem. (1959): dithionite in lye, first order, 26.5 kcal/mol",
        "abstract seen without the exponent of its constant; year and journal from memory",
    ),
    "Telfeyan": Source(
        "Telfeyan K. et al., long-term stability of dithionite in alkaline anaerobic solution (Los Alamos): over 100 "
        "days at pH 9.5, about 50 at pH 7",
        "abstract seen; its temperature was not, and is taken as a room's",
    ),
    "Rinker": Source(
        "Rinker R.G., Lynn S., Mason D.M. & Corcoran W.H.: thermal decomposition of dithionite, pH 4.8 to 7, 60 to 80 "
        "degrees C",
        "abstract seen; after its first part the reaction speeds itself up, which is not in the rate",
    ),
    "TDOrate": Source(
        "Gao Q. et al., J. Phys. Chem. A 111 (2007) 872: thiourea dioxide falls apart by first order, faster as the pH "
        "rises",
        "abstract seen, no rate constant: the half-lives here are a guess",
    ),
    "Bruijn1986": Source(
        "de Bruijn J.M., Kieboom A.P.G. & van Bekkum H., Recl. Trav. Chim. Pays-Bas 105 (1986) 176: sugars in alkali "
        "turn to acids of one to six carbons; calcium makes more lactic acid of fructose; warmth does not change which",
        "abstract",
    ),
    "Bichsel1965": Source(
        "Bichsel S.E.: the chemical destruction of sucrose, fructose and glucose in hot alkaline process juices, first "
        "order for each sugar",
        "introduction seen, no rate constant",
    ),
    "Arrhenius": Source("Arrhenius's law: a rate grows as exp(-E/RT)", MEMORY),
    "Vuorema2008": Source(
        "Vuorema A. et al., Dyes Pigm. 76 (2008) 542: glucose reduces indigo in 0.2 M lye with 4.1e-9 m/s at 65 "
        "degrees C and an energy of activation of 64 kJ/mol",
        "abstract",
    ),
    "ZieglerJohnson2001": Source(
        "Ziegler F. & Johnson C.A., Cem. Concr. Res. 31 (2001) 1327: calcium zincate, log Ks 43.9, is the solid that "
        "zinc settles as in saturated lime",
        "abstract",
    ),
    "Aino2018": Source(
        "Aino K. et al., Front. Microbiol. 9 (2018) 2196: a fermenting vat reduces indigo from four days to two weeks",
        "abstract",
    ),
    "Tao": Source(
        "Tao Z., Goodisman J. & Souid A.-K.: 1.2 dithionite an oxygen at 25, 1.7 at 37 degrees C",
        "abstract seen",
    ),
    "Kawagoe1981": Source(
        "Kawagoe M. & Robinson C.W., Can. J. Chem. Eng. 59 (1981): dithionite eats oxygen as it comes, 76 kJ/mol",
        "abstract seen",
    ),
    "CrusiusWanninkhof2003": Source(
        "Crusius J. & Wanninkhof R., Limnol. Oceanogr. 48 (2003): gas across a still lake, 0.17 cm/h without wind",
        "seen in a published program's source",
    ),
    "ColeCaraco1998": Source(
        "Cole J.J. & Caraco N.F., Limnol. Oceanogr. 43 (1998): gas across a still lake, 2.07 cm/h without wind",
        MEMORY,
    ),
    "CIE15": Source(
        "CIE 15, Colorimetry: the 1931 observer of 2 degrees, illuminant D65, L*a*b* of 1976",
        "tables seen in a published program, formulas from memory; compared with it",
    ),
    "IEC61966": Source(
        "IEC 61966-2-1, sRGB: primaries, white D65 and the curve of a screen",
        "from memory; compared with a published program",
    ),
    "CIEDE2000": Source(
        "Sharma G., Wu W. & Dalal E.N., Color Res. Appl. 30 (2005) 21: CIEDE2000 and its test pairs",
        "from memory; compared with a published program",
    ),
    "KubelkaMunk": Source(
        "Kubelka P. & Munk F., Z. tech. Phys. 12 (1931) 593: K/S = (1 - R)^2 / 2R for a layer that hides its ground",
        MEMORY,
    ),
    "ISO105A02": Source(
        "ISO 105-A02, grey scale for change in colour: the difference of each pair of greys",
        "abstract seen, table from memory",
    ),
    "ISO105A05": Source(
        "ISO 105-A05, instrumental grey-scale rating: 5 - dE/1.7 down to grade 3, then 5 - log2(dE/0.85)",
        "from memory, taken here on the CIE 1976 difference; it returns the table of ISO 105-A02",
    ),
    "IndigoShade": Source(
        "the curve of indigo on a fibre: highest at 660 nm, moving to 620 nm on wool as depth rises (Son, Shin & Yoo, "
        "J. Korean Soc. Cloth. Text. 34(3), 2010; Park Y., 2023, for cellulose); the rest is an estimate of our own",
        "two abstracts for where it is highest; width, floor and colour yield are guesses until swatches are recorded",
    ),
}
"""Every reference, by key."""
