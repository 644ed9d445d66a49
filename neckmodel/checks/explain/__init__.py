"""What each check measures, in words. Needs no CAD kernel."""
