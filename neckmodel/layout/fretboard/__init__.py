"""The fretboard: plan, crown, fret slots, nut."""
