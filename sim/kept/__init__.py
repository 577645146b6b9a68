"""Answers kept on disk, and the one writer of files."""
