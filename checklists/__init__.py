"""The rules of counting back. Standard library only; no clock, no id, no file, no widget."""
