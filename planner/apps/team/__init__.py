"""The team's page: two to six alternatives of one house beside one another, what the team says of them, and which comes
first by what matters to it."""
