"""From a project to what is drawn: the parts that pictures share."""
