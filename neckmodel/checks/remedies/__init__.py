"""Remedies: what to change so that a finding passes."""
