import { answers, bodyOf, operation, pathId } from './openapi-parts'

const write = { security: [{}, { bearer: [] }] }

/** Named views. */
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
}
