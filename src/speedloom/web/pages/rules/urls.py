"""Addresses of the rulebook."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.rules import views

HERE = "squads/<str:squad>/rules/"

urlpatterns = [
    path(HERE, views.rules_page, name="rules"),
    path(f"{HERE}<str:rule>/", views.rule_page, name="rule"),
]
