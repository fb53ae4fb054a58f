"""The account of a vat as it is kept for another day."""

from __future__ import annotations

from vatside.chemistry.alkalis import BAKING_SODA
from vatside.chemistry.substances import substance
from vatside.log.state import State
from vatside.plan.measures import powder
from vatside.vat.account import free_alkali_g, reducer_g
from vatside.vat.kept_vat import KeptVat, sourest


def kept_vat(state: State) -> KeptVat | None:
    """Give the account as it is kept for another day; None if there is no vat."""
    account = state.tending.account
    if account is None:
        return None
    name = powder(state.plan, "reducer").material.species
    carbonate = account.bath.carbonate * substance(BAKING_SODA).molar_mass
    return KeptVat(
        litres=account.litres,
        indigotin_g=account.indigotin_g,
        alkali=account.alkali,
        alkali_g=max(free_alkali_g(account), sourest(carbonate)),
        reducer=name,
        reducer_g=reducer_g(account, name),
        carbonate_g=carbonate,
        oxidised_g=account.unreduced_g,
        salts_g=(account.bath.sulfite + account.bath.sulfate) * substance("sodium sulfate").molar_mass,
    )
