"""What was typed where no network was: kept on the phone, and sent once when it is back."""
