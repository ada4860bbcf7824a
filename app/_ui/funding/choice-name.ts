import { optionTitle } from '@/app/_words/en/option-title'
import type { FundingChoice } from '@/lib/portfolio/choice'

/** A choice's options in the order of doing them. */
export const choiceName = ({ options }: Pick<FundingChoice, 'options'>) =>
  options.map((id) => optionTitle(id)).join(', then ')
