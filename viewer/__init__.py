"""Every way to see a result: command line, pictures, paper and pages."""
