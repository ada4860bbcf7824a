import { MEASURE_STATES } from '@/lib/contract/measure'
import { answers, bodyOf, operation, pathId, query } from './openapi-parts'

const write = { security: [{}, { bearer: [] }] }
const text = { type: 'string' }
const gone = { 204: answers('Deleted') }

/** Measures, their proofs, trials and pieces. */
export const measurePaths = {
  '/api/measures': {
    get: operation(
      'Measures with their latest step, those touched last first',
      {
        parameters: [
          query('state', 'Only those in this state', { type: 'string', enum: MEASURE_STATES }),
          query('machine', 'Only those of this machine', text),
          query('owner', 'Only those of this owner', text),
        ],
      },
      { 200: answers('The measures', 'Measures') },
    ),
    post: operation(
      'Turn an option of a log’s result, or an idea of one’s own, into a measure; its promise is frozen',
      { ...write, requestBody: bodyOf('NewMeasure') },
      { 201: answers('The measure', 'Measure') },
    ),
  },
  '/api/measures/{id}': {
    parameters: [pathId('id')],
    get: operation('A measure with its history and quotes', {}, { 200: answers('The measure', 'Measure') }),
    put: operation(
      'Write owner, notes or the set-up of the proof anew; what is left out stays',
      { ...write, requestBody: bodyOf('MeasureChange') },
      { 200: answers('The measure', 'Measure') },
    ),
  },
  '/api/measures/{id}/events': {
    parameters: [pathId('id')],
    post: operation(
      'Take it a step on, or back by a further step; "verified" freezes the proof',
      { ...write, requestBody: bodyOf('NewMeasureEvent') },
      { 201: answers('The measure', 'Measure') },
    ),
  },
  '/api/measures/{id}/quotes': {
    parameters: [pathId('id')],
    post: operation(
      'Keep a quote, in the site’s currency',
      { ...write, requestBody: bodyOf('NewMeasureQuote') },
      { 201: answers('The measure', 'Measure') },
    ),
  },
  '/api/measures/{id}/proof': {
    parameters: [pathId('id')],
    get: operation(
      'The adjusted saving of the logs after it against the logs before, with interval and verdict',
      {},
      { 200: answers('The proof', 'Proof') },
    ),
  },
  '/api/logs/{id}/trials': {
    parameters: [pathId('id')],
    get: operation('Same-day trials in a log', {}, { 200: answers('The trials', 'Trials') }),
    post: operation(
      'Say when a setting was changed by hand; cycles before and after are compared',
      { ...write, requestBody: bodyOf('NewTrial') },
      { 201: answers('The trial', 'Trial') },
    ),
  },
  '/api/logs/{id}/trials/{trial}': {
    parameters: [pathId('id'), pathId('trial')],
    delete: operation('Take a trial back', write, gone),
  },
  '/api/logs/{id}/production': {
    parameters: [pathId('id')],
    put: operation(
      'Say how many pieces were made while the log ran',
      { ...write, requestBody: bodyOf('NewProduction') },
      { 200: answers('The count', 'Production') },
    ),
    delete: operation('Take the count back', write, gone),
  },
}
