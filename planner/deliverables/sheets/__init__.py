"""Drawn papers: a set of drawings, profiles at full size, story poles, and files for CAD."""
