"""Printed matter: a sheet as plain data, and one writer for each form that it leaves in."""
