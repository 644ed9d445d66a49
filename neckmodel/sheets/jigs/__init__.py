"""Drawings of the jigs, true to size, with their sizes. Drawing one loads the kernel: a finished jig is looked at."""
