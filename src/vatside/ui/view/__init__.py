"""Values turned into rows of words: pure functions that know nothing of terminals or widgets."""
