"""The head by itself: face, back, outline, volute."""
