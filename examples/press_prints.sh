#!/bin/sh
# What the press of the demo does with a job: ippeveprinter runs it with the file. It prints nothing, and counts the sheets as a press does.
echo "ATTR: job-impressions-completed=$(qpdf --show-npages "$1")" >&2
