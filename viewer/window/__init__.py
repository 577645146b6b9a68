"""The window: widgets of Qt, each reading the session; the only place that knows Qt."""
