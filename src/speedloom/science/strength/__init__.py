"""Lifts: one-repetition maximum, repetitions, effort."""
