"""Sprint-speed programmes from an athlete's own tests, with the working behind every number."""
