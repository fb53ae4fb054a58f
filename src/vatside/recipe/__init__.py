"""From a plan to its sheet: every quantity of every stage."""
