"""Addresses of reviews."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.review import views

HERE = "squads/<str:squad>/programmes/<str:programme>/review/"

urlpatterns = [
    path("squads/<str:squad>/review/", views.reviews_page, name="reviews"),
    path(HERE, views.review_page, name="review"),
    path(f"{HERE}paper/", views.review_paper, name="review_paper"),
]
