-- Devices that were let in. A token is only here as its hash: whoever reads this file gets in nowhere.
create table device (
  id text primary key,
  name text not null,
  token_hash text not null unique,
  paired_at text not null,
  used_on text not null
) strict;

-- The one pairing code that is good, if any: making one ends the one before it.
create table pairing_code (
  only integer primary key check (only = 1),
  salt text not null,
  hash text not null,
  ends_at text not null
) strict;

-- Where the server was last reached, so that a code can be shown with its address by another process.
create table served (
  only integer primary key check (only = 1),
  address text not null
) strict;
