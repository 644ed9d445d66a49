"""The marks that drawings are made of."""
