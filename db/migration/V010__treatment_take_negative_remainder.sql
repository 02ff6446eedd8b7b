-- Where the amount drawn is worked out as what remains of the other volumes, it can come out below zero. Such a figure is
-- kept as it was given and told as an item of data quality; an entry form does not take one.
alter table preparation drop constraint preparation_stock_drawn_ml_check;
