"""Addresses of the calendar."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.calendar import views

HERE = "squads/<str:squad>/calendar/"

urlpatterns = [
    path(HERE, views.calendar_page, name="calendar"),
    path(f"{HERE}add-event/", views.event_page, name="add_event"),
    path(f"{HERE}events/<int:number>/", views.event_page, name="event"),
    path(f"{HERE}absences/<str:athlete>/", views.absences_page, name="absences"),
]
