"""A new programme: goal and dates, days of the week, who is fit, solved or said why not."""
