"""The finished outside of shaft, head and heel together."""
