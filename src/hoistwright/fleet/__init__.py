"""The hoists of a shop taken together: prognosis on stored readings, returns, load, recalls.

Plain rows in, plain values out; no store, no page. `docs/returns.md` explains what comes of it.
"""
