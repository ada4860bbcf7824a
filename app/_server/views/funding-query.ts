import { AIMS, type Aim } from '@/lib/portfolio/fund'

/** What of the funding page stands in its address. */
export interface FundingQuery {
  /** Null: as much as it takes. */
  readonly budget: number | null
  /** Null: the usual one. */
  readonly aim: Aim | null
  readonly line: string | null
  /** Only what somebody entered costs for. */
  readonly isQuotedOnly: boolean
  /** What is decided already is paid from the budget. */
  readonly isDecidedSpent: boolean
  /** Machines left out by hand. */
  readonly without: readonly string[]
  /** Long lists are shown to their end. */
  readonly isWhole: boolean
}

/** An entry of the address that could not be understood. */
export interface RefusedEntry {
  readonly entry: string
  readonly expected: string
  readonly actual: string
}

type Params = Readonly<Record<string, string | string[] | undefined>>

/** The query of an address, and the entries that are no such. @param usualBudget where the address names none */
export function readFundingQuery(
  params: Params,
  usualBudget: number | undefined,
): { query: FundingQuery; refused: RefusedEntry[] } {
  const refused: RefusedEntry[] = []
  const texts = (name: string) => [params[name] ?? []].flat()
  const text = (name: string) => texts(name).at(-1)?.trim() ?? null
  let budget = usualBudget ?? null
  const budgetText = text('budget')
  if (budgetText === '') budget = null
  else if (budgetText !== null) {
    const typed = Number(budgetText.replaceAll(/[\s'’]/g, ''))
    if (Number.isFinite(typed) && typed >= 0) budget = typed
    else
      refused.push({ entry: 'budget', expected: 'an amount of 0 or more, digits only', actual: budgetText })
  }
  const aimText = text('aim')
  const aim = AIMS.find((one) => one === aimText) ?? null
  if (aimText && !aim) refused.push({ entry: 'aim', expected: AIMS.join(' or '), actual: aimText })
  return {
    query: {
      budget,
      aim,
      line: text('line') || null,
      isQuotedOnly: text('quoted') === '1',
      isDecidedSpent: text('spent') === '1',
      without: texts('without').filter(Boolean),
      isWhole: text('all') === '1',
    },
    refused,
  }
}

/** The address of the same page without one more machine, or with one again. */
export function fundingAddress(query: FundingQuery, without: readonly string[] = query.without): string {
  const params = new URLSearchParams()
  params.set('budget', query.budget === null ? '' : String(query.budget))
  if (query.aim) params.set('aim', query.aim)
  if (query.line) params.set('line', query.line)
  if (query.isQuotedOnly) params.set('quoted', '1')
  if (query.isDecidedSpent) params.set('spent', '1')
  if (query.isWhole) params.set('all', '1')
  for (const id of without) params.append('without', id)
  return `/funding?${params}`
}
