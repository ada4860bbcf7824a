import type { Question } from '@/app/_server/inspection-shapes'
import { isSameLayout } from '@/lib/contract/layout'
import { canImport, type Upload } from './upload-state'

/** The files of one layout and machine that are not on their way yet, in the order of the list. */
export function peersOf(uploads: readonly Upload[], { machineId, survey }: Upload): Upload[] {
  if (!survey) return []
  return uploads.filter(
    (other) =>
      other.survey !== null &&
      other.machineId === machineId &&
      (canImport(other.stage) || other.stage === 'refused') &&
      isSameLayout(other.survey.layout, survey.layout),
  )
}

/**
 * The one of them that asks something on behalf of all: the first that has the question. A question that belongs to
 * one file is asked by it; the columns are shown by the first where nobody asks about them.
 */
export function askerOf(uploads: readonly Upload[], upload: Upload, id: Question['id']): Upload {
  if (id === 'startedAt' || id === 'clockShift') return upload
  const peers = peersOf(uploads, upload)
  const asks = peers.find(({ inspection }) => inspection?.questions.some((question) => question.id === id))
  return asks ?? (id === 'columns' ? (peers[0] ?? upload) : upload)
}
