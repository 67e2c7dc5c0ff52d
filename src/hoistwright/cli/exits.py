"""Exit codes, and the text about them in every help page."""

ALL_FIT = 0
NOT_ALL_FIT = 1
BAD_INPUT = 2
OUR_FAULT = 70

EXIT_TEXT = """exit codes:
  0   done; of an examination: everything is fit
  1   done, but something is to be renewed, borderline or not established, or a basis
      is not adopted
      (of a check: something in the design cannot be right)
  2   the input cannot be used; every fault is named, nothing was done
  70  Hoistwright itself failed; a file with the details is named"""
