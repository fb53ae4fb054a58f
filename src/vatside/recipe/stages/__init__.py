"""The figures, stage by stage."""
