"""The views of one project, and what the file of a table of sizes is called."""

#: Where each view is, and what leads to it.
WAYS = (
    ("/project", "The project"),
    ("/steps", "Step by step"),
    ("/sizes", "All sizes"),
    ("/table", "Several sizes"),
    ("/take", "Take it"),
    ("/kit", "Many of it"),
    ("/write", "Its recipe"),
)

CSV = "sizes.csv"
