"""The calendar: slots, events, absences and peaks, and what a change of them would move."""
