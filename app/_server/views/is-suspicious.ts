import type { QualityView } from './month-logs'

/** Whether a log has something to look at; one whose options are being replayed is not known to. */
export const isSuspicious = ({
  problemCount,
  modelTrusted,
  isReplaying,
}: Pick<QualityView, 'problemCount' | 'modelTrusted' | 'isReplaying'>): boolean =>
  !isReplaying && (problemCount !== 0 || !modelTrusted)
