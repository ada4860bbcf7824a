import type { FundingChoice } from '@/lib/portfolio/choice'
import { OPTION_WORDS } from '../labels'

/** A choice's options in the order of doing them. */
export const choiceName = ({ options }: Pick<FundingChoice, 'options'>) =>
  options.map((id) => OPTION_WORDS[id].title).join(', then ')
