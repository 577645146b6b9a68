"""Why a joint broke or wore: what is seen, held against what is computed."""
