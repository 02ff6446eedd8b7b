-- What the clinic injects, by substance and content: the words of the trade, never a brand. Preparations keep what was
-- typed, so an entry that is mended here changes no record.
create table catalogue_product (
	id uuid primary key default uuidv7(),
	substance text not null check (substance = btrim(substance) and substance <> ''),
	vial_mg numeric check (vial_mg > 0),
	hyaluronic_mg numeric check (hyaluronic_mg >= 0),
	in_use boolean not null default true,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create unique index catalogue_product_once on catalogue_product (lower(substance), coalesce(vial_mg, 0),
	coalesce(hyaluronic_mg, 0));

create table catalogue_lot (
	id uuid primary key default uuidv7(),
	product_id uuid not null references catalogue_product,
	lot text not null check (lot = btrim(lot) and lot <> ''),
	expires_on date not null,
	in_use boolean not null default true,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (product_id, lot)
);

create trigger catalogue_product_keeps_versions before update on catalogue_product
	for each row execute function keep_previous_version();
create trigger catalogue_product_is_not_deleted before delete on catalogue_product
	for each row execute function refuse_deletion();
create trigger catalogue_lot_keeps_versions before update on catalogue_lot
	for each row execute function keep_previous_version();
create trigger catalogue_lot_is_not_deleted before delete on catalogue_lot
	for each row execute function refuse_deletion();
