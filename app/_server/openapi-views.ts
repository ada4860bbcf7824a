import { answers, bodyOf, operation, pathId, query } from './openapi-parts'

const write = { security: [{}, { bearer: [] }] }

const text = { type: 'string' }

/** Named views and reports. */
export const viewPaths = {
  '/api/views': {
    get: operation('Views of pages that have a name', {}, { 200: answers('The views', 'SavedViews') }),
  },
  '/api/views/{view}': {
    parameters: [pathId('view')],
    put: operation(
      'Name a view: a page’s address. The same id again renames it, or brings it back',
      { ...write, requestBody: bodyOf('NewSavedView') },
      { 200: answers('The view', 'SavedView') },
    ),
    delete: operation('Delete it', write, { 204: answers('Deleted') }),
  },
  '/api/reports': {
    get: operation('Reports, latest first', {}, { 200: answers('The reports', 'Reports') }),
    post: operation(
      'Make a report of a month or a machine when its turn comes, and keep it',
      { ...write, requestBody: bodyOf('NewReport') },
      { 202: answers('It waits its turn; ask its address for the state', 'Report') },
    ),
  },
  '/api/reports/{run}': {
    parameters: [pathId('run')],
    get: operation('How far a report is', {}, { 200: answers('The report', 'Report') }),
    delete: operation('Delete a kept report', write, { 204: answers('Deleted') }),
  },
  '/api/reports/{run}/file': {
    parameters: [pathId('run')],
    get: operation(
      'A kept report as it was made',
      { parameters: [query('format', 'pdf (usual) or xlsx', text)] },
      { 200: answers('The file') },
    ),
  },
  '/api/reports/tables': {
    get: operation(
      'Tables of a report as the data stand now',
      {
        parameters: [
          query('kind', 'month or machine', text, true),
          query('subject', 'The month as YYYY-MM, or the machine’s id', text, true),
          query('format', 'csv (usual) or xlsx with all tables', text),
          query('table', 'Which table, for csv', text),
        ],
      },
      { 200: answers('The file') },
    ),
  },
}
