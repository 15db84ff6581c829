"""Stage 3, Layout to Network: demand, bores, flows and pressures."""
