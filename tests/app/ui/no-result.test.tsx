import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it, vi } from 'vitest'
import { NoResult } from '@/app/_ui/machine/no-result'

vi.mock('next/navigation', () => ({ useRouter: () => ({ refresh: () => {} }) }))

const log = {
  ...{ id: 'log-1', fileName: 'shift.csv', state: 'done' as const, progress: 1 },
  ...{ startedAt: null, receivedAt: '2026-09-15T08:00:00Z', durationS: 60, failure: null },
}
const html = (failure: string | null) =>
  renderToStaticMarkup(<NoResult machineId="press" chosen={{ ...log, failure }} />)

it('says why a log could not be analysed again, instead of waiting for it without end', () => {
  expect(html(null)).toContain('is being analysed again')
  const failed = html('The pump has no displacement.')
  expect(failed).toContain('shift.csv could not be analysed again')
  expect(failed).toContain('The pump has no displacement.')
  expect(failed).toContain('/machines/press/logs/log-1')
  expect(failed).not.toContain('is being analysed again')
})
