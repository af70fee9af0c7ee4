"""Broken and hostile files through every loader: a value or findings, never anything else."""
