"""From a plan to its sheet: what the dyer decides, and every quantity that follows."""
