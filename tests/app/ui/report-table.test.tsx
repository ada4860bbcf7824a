import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { ReportTableView } from '@/app/_ui/reports/report-table'

it('lets a long file name break behind what joins its parts, and keeps every letter', () => {
  const name = 'press_all-sensors_2026-09-15.csv'
  const table = { id: 'files', title: 'Files', columns: [{ header: 'File' }], rows: [[name], ['short.csv']] }
  const html = renderToStaticMarkup(<ReportTableView table={table} />)
  const broken = 'press_<wbr/>all-<wbr/>sensors_<wbr/>2026-<wbr/>09-<wbr/>15.<wbr/>csv'
  expect(html).toContain(`<th scope="row" class="wrap-anywhere">${broken}</th>`)
  expect(html.replaceAll('<wbr/>', '')).toContain(name)
  expect(html).toContain('<th scope="row">short.csv</th>')
})
