"""How much acid a sample of a spent vat takes, for the whole of it: the steps, and the dose from what they gave."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.adjust import Acid as SolverAcid
from vatside.chemistry.adjust import acid_needed, dose_from_titration, spent_and_cool
from vatside.plan.measures import powder
from vatside.plan.plan import Plan
from vatside.vat.account import Account
from vatside.vat.spent import Acid, AcidDose, PHRange, takes_acid


@frozen
class SampleEnd:
    """Where a titrated sample of the vat ends."""

    pH: float  # noqa: N815  (chemistry's own symbol)
    next_day_pH: float | None = None  # noqa: N815  (chemistry's own symbol)
    """Where a soda vat dosed by it stands once its carbonic acid has gone; None: it does not drift."""
    share_at_target: float = 1.0
    """Of the acid it needs, what a sample has taken at the pH aimed at."""


def sample_end(account: Account, acid: Acid, aim: PHRange | None = None) -> SampleEnd:
    """Give the pH at 25 degrees C at which a titrated sample has taken what the vat needs [PlummerBusenberg1982].

    The pH aimed at; of a vat with soda the lower one that its alkalinity decides, while carbonic acid is still in it:
    stirred out, the sample takes up to two fifths more, and the vat comes to no less than that pH. Raises as
    `dose_by_account`.
    """
    limits = aim or PHRange()
    named: SolverAcid = "vinegar" if acid is Acid.VINEGAR else "citric acid"
    needed = acid_needed(spent_and_cool(takes_acid(account).bath), limits.target, limits.high, named)
    if needed.end_pH is None or needed.amount <= 0 or round(needed.end_pH, 1) >= limits.target:
        return SampleEnd(limits.target)
    return SampleEnd(round(needed.end_pH, 1), needed.next_day_pH, needed.to_target / needed.amount)


def dose_by_sample(
    sample_ml: float, used: float, litres: float, plan: Plan, acid: Acid, end: SampleEnd | None = None
) -> AcidDose:
    """Scale up what a stirred sample (mL) took to come to its end: mL of vinegar, or g of citric acid.

    The same bottle or tub for both; common practice, no source. Raises `OutOfRange` for no sample.
    """
    to = end or SampleEnd(PHRange().target)
    whole = dose_from_titration(sample_ml, used, litres) * 1000
    is_vinegar = acid is Acid.VINEGAR
    grams = whole * powder(plan, acid.value).material.bulk.value if is_vinegar else whole
    millilitres = whole if is_vinegar else 0.0
    return AcidDose(acid, grams, millilitres, to.pH, by="sample", next_day_pH=to.next_day_pH)


def sample_steps(end: SampleEnd, target_pH: float, *, limed: bool = False) -> tuple[str, ...]:
    """Give how a sample is titrated, and where it ends."""
    last = f"Stop at pH {end.pH:g}, measured cold. What it took, times the litres of the vat and ten, is the dose."
    if end.next_day_pH is not None:
        last = (
            f"Stop at pH {end.pH:.1f}, measured cold, not at {target_pH:g}: there it has taken only about "
            f"{100 * end.share_at_target:.0f} % of the acid, for this vat holds soda, and the pH drifts up again as "
            "carbonic acid goes off. What it took, times the litres of the vat and ten, is the dose."
        )
    whole = "Stir the oxidised vat up from the bottom and take 100 mL."
    return (
        "Stir the clear liquor that was poured off the lime and take 100 mL of it." if limed else whole,
        "Add the vinegar by the drop, some 20 to the millilitre (or citric acid by the pinch from a weighed heap), "
        "stirring gently.",
        last,
    )
