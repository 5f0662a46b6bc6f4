"""The record: what people said of a house's alternatives and what was decided, and on what state of the house."""
