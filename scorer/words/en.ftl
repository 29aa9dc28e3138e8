### Every sentence that people read, in the trade's plain English.
### The name of a message is the kind of a fact; its variables are the fact's values, which
### arrive said in the event's units and time zone.  Counts arrive as numbers.

## Small words
list-end = { $before } and { $last }
over-99-percent = over 99 %
under-1-percent = under 1 %
