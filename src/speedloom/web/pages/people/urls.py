"""Addresses of a squad's people."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.people import views

HERE = "squads/<str:squad>/people/"

urlpatterns = [
    path(HERE, views.people_page, name="people"),
    path(f"{HERE}change/", views.member_page, name="member"),
    path(f"{HERE}take-back/", views.take_back, name="take_back_invitation"),
]
