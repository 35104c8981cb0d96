"""The hub: the server that keeps what the phones of a business share, and hands out the web app.

FastAPI over SQLAlchemy. Every process keeps its state in the database alone, so several may run on one
PostgreSQL. The rules of the protocol are in logic.sync; here are HTTP, the database, files and mail.
"""
