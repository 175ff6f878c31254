"""Addresses of the calendar."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.calendar import slots, views

HERE = "squads/<str:squad>/calendar/"

urlpatterns = [
    path(HERE, views.calendar_page, name="calendar"),
    path(f"{HERE}add-event/", views.event_page, name="add_event"),
    path(f"{HERE}events/<int:number>/", views.event_page, name="event"),
    path(f"{HERE}add-day/", slots.slot_page, name="add_slot"),
    path(f"{HERE}days/<str:slot>/", slots.slot_page, name="slot"),
    path(f"{HERE}peaks/", slots.peaks_page, name="peaks"),
    path(f"{HERE}absences/<str:athlete>/", views.absences_page, name="absences"),
]
