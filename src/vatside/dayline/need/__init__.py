"""From the steps of a day to what is to be laid: tasks, links, spans, and the things that there are."""
