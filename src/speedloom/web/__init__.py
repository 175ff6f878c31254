"""The site: pages that fetch, call one workflow and answer."""
