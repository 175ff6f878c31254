"""Restrictions: what somebody may not do now, who set it, who may lift it; and clearances."""
