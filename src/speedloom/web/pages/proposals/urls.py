"""Addresses of proposals."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.proposals import views

urlpatterns = [
    path("squads/<str:squad>/programmes/<str:programme>/proposals/", views.proposals_page, name="proposals"),
]
