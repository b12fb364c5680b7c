-- Links by which somebody may read a job's sheet. Records as all others: a link that was revoked stays revoked. Of the
-- token that opens it only the SHA-256 is kept, so that nobody who gets this file, or a backup of it, gets a link.

create table share (
  id text primary key,
  job_id text not null references job (id),
  token_digest text not null unique,
  created_at text not null,
  expires_at text not null,
  digest text not null
) strict;
create index share_of_job on share (job_id, created_at, id);

create table share_revocation (
  share_id text primary key references share (id),
  at text not null,
  digest text not null
) strict;

create trigger share_is_kept before update on share begin select raise(abort, 'a record is never changed'); end;
create trigger share_revocation_is_kept before update on share_revocation begin select raise(abort, 'a record is never changed'); end;
create trigger share_stays before delete on share begin select raise(abort, 'a record is never deleted'); end;
create trigger share_revocation_stays before delete on share_revocation begin select raise(abort, 'a record is never deleted'); end;
