"""The drawer: candidates, aims and what nothing else beats."""
