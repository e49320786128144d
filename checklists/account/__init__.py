"""The whole account of a teardown, worked out from its entries as plain records that are ready to print."""
