"""Addresses of the first page."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.today import views

urlpatterns = [path("", views.today, name="today")]
