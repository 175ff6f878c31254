"""Addresses of tests."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.tests import views

HERE = "squads/<str:squad>/tests/"

urlpatterns = [
    path(HERE, views.tests_page, name="tests"),
    path(f"{HERE}<int:number>/strike/", views.strike, name="test_strike"),
    path(f"{HERE}<int:number>/bring-back/", views.bring_back, name="test_bring_back"),
]
