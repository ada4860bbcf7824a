/** What a month is held against. */
export const REFERENCES = ['previous', 'lastYear', 'baseline'] as const
export type Reference = (typeof REFERENCES)[number]
