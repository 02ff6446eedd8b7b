-- Whether a rating was given without sight of any earlier one. Nothing is known of what a bundle brought.
alter table scar_assessment add column blinded boolean;
