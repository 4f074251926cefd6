"""Values worked out another way, by general-purpose libraries: never by mechkit."""
