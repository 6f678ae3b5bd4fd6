"""From the compiler to the buyer: what changed between two revisions and what it means at the bench, the sheet for past buyers, buyers' copies,
samples and listings. Works from ``plan.json`` and the finished files, never from a plan's source."""
