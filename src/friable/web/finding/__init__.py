"""Find and replace: the best mix that can be made, what comes closest without a material, litres at hand."""
