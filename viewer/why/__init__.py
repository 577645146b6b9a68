"""Why a joint broke or wore, as text, JSON and picture."""
