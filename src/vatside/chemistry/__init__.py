"""What water, alkali, reducer and indigo do: pure functions on plain floats in stated units.

Units throughout: grams, litres, kilograms of water, degrees Celsius, kilopascals, minutes, mol and mol/kg of water.
A value outside the range a function knows raises `OutOfRange`, a `ValueError` whose text is a sentence to show.
A key in square brackets, such as `[Kell1975]`, leads to the full reference in `vatside.chemistry.sources`.
"""
