"""Addresses of links: those of the people who make them, and the links themselves."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.links import opened, views

HERE = "squads/<str:squad>/programmes/<str:programme>/"

urlpatterns = [
    path(f"{HERE}links/", views.links_page, name="links"),
    path(f"{HERE}links/<str:athlete>/", views.own_links_page, name="own_links"),
    path("feed/<str:feed>/training.ics", opened.feed, name="feed"),
    path("sheet/<str:sheet>/", opened.sheet_page, name="sheet"),
    path("sheet/<str:sheet>/paper/", opened.sheet_paper, name="sheet_paper"),
]
