"""Pictures and paper."""
