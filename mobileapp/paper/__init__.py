"""Paper: the closing sheet as a PDF, and the proof that a sheet belongs to a journal."""
