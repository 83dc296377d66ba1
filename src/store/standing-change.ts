/** Whether a change still stands, as a condition of SQL: it may have been taken back, and the undo taken back again. */

/** True where an even number of undos hangs on the change whose version `column` holds. */
export function standsSql(column: string): string {
  return `(
    with recursive undoing as (
      select version, 1 as depth from change where undoes = ${column}
      union all
      select change.version, depth + 1 from undoing join change on change.undoes = undoing.version
    )
    select coalesce(max(depth), 0) % 2 = 0 from undoing)`;
}
