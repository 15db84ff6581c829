"""Drawing to bytes: DXF, PDF and SVG. The back ends draw everything and decide nothing."""
