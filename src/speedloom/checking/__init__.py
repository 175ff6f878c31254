"""From a programme and its brief to findings, sharing no code with planning."""
