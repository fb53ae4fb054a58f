"""The day laid out: which step begins when, with which hands, hob, sink, pot and jar."""
