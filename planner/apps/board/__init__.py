"""The drawing board of the designer's app, a widget of our own: no build, no address but the page's own."""
