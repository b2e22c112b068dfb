"""What a bank has to prove before it is used, and what helps to write one."""
