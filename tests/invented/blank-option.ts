import type { OptionResult } from '@/lib/contract/result'
import { NO_FIGURES } from '@/lib/options/judge'

/** A row of an option that gives no figures. */
export const BLANK_OPTION: Omit<OptionResult, 'id' | 'reasons' | 'cautions'> = {
  ...NO_FIGURES,
  feasible: false,
  judged: true,
  settings: {},
  searched: [],
  investmentIsPlaceholder: true,
  needsConfirmation: false,
  toConfirm: [],
}
