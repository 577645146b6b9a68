"""Yokes drawn by a general CAD kernel, whose cross centre and axes are known by construction."""
