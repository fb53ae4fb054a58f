"""Dips: who goes in when, what goes on, what a piece has."""
