"""From derived values and drawings to what the buyer reads: HTML, PDF, data files. Decides layout and wording, computes nothing."""
