"""What a process of its own computes: the check, the cures, the ticket."""
