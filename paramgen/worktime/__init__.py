"""How long a project takes, who does what when, and what it costs.

A time is an estimate: every number behind it stands in `shared/work-times.toml`, can be said anew,
and is set right by one measured run (`pace`). The embroidery machine is taken from the hooping to
the last stop, and somebody is with it all that time: machines are not left alone while they sew
(common practice; most manuals say so).

Nothing is rounded before it is shown.
"""
