"""The look, once, for charts, drawings, papers and apps."""
