"""What would mend a brief that cannot be had or gave nothing: small changes of it, each run before it is told."""
