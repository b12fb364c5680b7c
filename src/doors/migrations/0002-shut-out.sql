-- Devices that somebody shut out, as long as their cookie lasts: each is to be told so, apart from one never let in.
create table shut_out (
  token_hash text primary key,
  paired_at text not null
) strict;
