"""Addresses of getting in and out."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.signing_in import views

urlpatterns = [
    path("sign-in/", views.sign_in_page, name="sign_in"),
    path("sign-in/<str:secret>/", views.one_time, name="one_time"),
    path("sign-out/", views.sign_out_page, name="sign_out"),
    path("invitation/<str:secret>/", views.invited, name="invited"),
    path("account/", views.account, name="account"),
    path("health/", views.health, name="health"),
]
