/** What a table keeps in the address: search, sort, choices, grouping, hidden and shown columns. */
export interface AddressState {
  readonly search: string
  readonly sort: { readonly id: string; readonly desc: boolean } | null
  readonly choices: Readonly<Record<string, string>>
  /** The column whose values part the rows into groups. */
  readonly group: string | null
  readonly columns: readonly string[] | null
}

const COLUMN_LIST = 'columns'
const GROUP = 'group'

export function readAddress(params: URLSearchParams, columnIds: readonly string[]): AddressState {
  const sort = params.get('sort')
  const id = sort?.replace(/^-/, '') ?? ''
  const columns = params.get(COLUMN_LIST)?.split(',') ?? null
  const group = params.get(GROUP)
  return {
    search: params.get('q') ?? '',
    sort: sort && columnIds.includes(id) ? { id, desc: sort.startsWith('-') } : null,
    choices: Object.fromEntries(
      columnIds.flatMap((column) => {
        const value = params.get(column)
        return value ? [[column, value]] : []
      }),
    ),
    group: group && columnIds.includes(group) ? group : null,
    columns: columns ? columns.filter((column) => columnIds.includes(column)) : null,
  }
}

/** The address with the table's state in it; parameters of others are kept. */
export function writeAddress(
  params: URLSearchParams,
  state: AddressState,
  columnIds: readonly string[],
): URLSearchParams {
  const next = new URLSearchParams(params)
  const set = (key: string, value: string) => (value ? next.set(key, value) : next.delete(key))
  set('q', state.search)
  set('sort', state.sort ? `${state.sort.desc ? '-' : ''}${state.sort.id}` : '')
  for (const id of columnIds) set(id, state.choices[id] ?? '')
  set(GROUP, state.group ?? '')
  set(COLUMN_LIST, state.columns?.join(',') ?? '')
  return next
}
