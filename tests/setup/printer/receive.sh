#!/bin/sh
# What the press does with a job (ippeveprinter -c): keeps the file and what was asked, and ends as $PRESS_END says.
cp "$1" "$PRESS_OUT/job.pdf"
env | grep '^IPP_' > "$PRESS_OUT/job.txt"
echo x >> "$PRESS_OUT/jobs"
case "$PRESS_END" in
  fail) echo "ERROR: the press gave up" >&2; exit 1 ;;
  empty) echo "STATE: +media-empty" >&2; while [ ! -e "$PRESS_OUT/refilled" ]; do sleep 0.1; done; echo "STATE: -media-empty" >&2 ;;
esac
exit 0
