"""The main window: its panels, where each stands, its menus and pages."""
