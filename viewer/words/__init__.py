"""Every sentence that says what was found."""
