-- The records: only ever added to. Ids are made by whoever writes, so that a repeated write is known as one.
-- `digest` is of the row's other columns (sqlite-rows.ts).

create table job (
  id text primary key,
  name text not null,
  place text not null,
  notes text not null,
  state text not null check (state in ('open', 'done', 'archived')),
  created_at text not null,
  digest text not null
) strict;

create table change (
  id text primary key,
  job_id text not null references job (id),
  at text not null,
  who text,
  name text,
  place text,
  notes text,
  state text check (state in ('open', 'done', 'archived')),
  digest text not null
) strict;
create index change_of_job on change (job_id, at, id);

create table entry (
  id text primary key,
  job_id text not null references job (id),
  at text not null,
  said text not null,
  reading text not null,
  answer text not null,
  calculators_version text not null,
  tables_version text not null,
  digest text not null,
  unique (job_id, id)
) strict;
create index entry_of_job on entry (job_id, at, id);

create table fact (
  id text primary key,
  job_id text not null references job (id),
  field text not null,
  applies_to text,
  value text not null,
  provenance_from text not null check (provenance_from in ('answer', 'person', 'import')),
  provenance_entry_id text,
  provenance_who text,
  at text not null,
  digest text not null,
  unique (job_id, id),
  foreign key (job_id, provenance_entry_id) references entry (job_id, id)
) strict;
create index fact_of_job on fact (job_id, at, id);

create table withdrawal (
  id text primary key,
  job_id text not null references job (id),
  fact_id text not null,
  at text not null,
  who text,
  digest text not null,
  foreign key (job_id, fact_id) references fact (job_id, id)
) strict;
create index withdrawal_of_job on withdrawal (job_id, at, id);

create trigger job_is_kept before update on job begin select raise(abort, 'a record is never changed'); end;
create trigger change_is_kept before update on change begin select raise(abort, 'a record is never changed'); end;
create trigger entry_is_kept before update on entry begin select raise(abort, 'a record is never changed'); end;
create trigger fact_is_kept before update on fact begin select raise(abort, 'a record is never changed'); end;
create trigger withdrawal_is_kept before update on withdrawal begin select raise(abort, 'a record is never changed'); end;
create trigger job_stays before delete on job begin select raise(abort, 'a record is never deleted'); end;
create trigger change_stays before delete on change begin select raise(abort, 'a record is never deleted'); end;
create trigger entry_stays before delete on entry begin select raise(abort, 'a record is never deleted'); end;
create trigger fact_stays before delete on fact begin select raise(abort, 'a record is never deleted'); end;
create trigger withdrawal_stays before delete on withdrawal begin select raise(abort, 'a record is never deleted'); end;

-- What the records come to, for the list of jobs alone. Worked out anew from them with every write, so that the
-- order in which they came makes no difference.

create table job_now (
  job_id text primary key references job (id),
  name text not null,
  place text not null,
  state text not null,
  touched_at text not null
) strict, without rowid;
create index job_now_touched on job_now (touched_at, job_id);
create index job_now_state on job_now (state, touched_at, job_id);
