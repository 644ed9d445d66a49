"""Drawings of the jigs, true to size, with their sizes. Drawing one loads the kernel, for it is drawn from the finished
jig."""
