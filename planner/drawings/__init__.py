"""Plans, elevations and sections, built once as shapes and then written in a format."""
