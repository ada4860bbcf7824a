import { FIGURES } from '@/lib/months/figures'
import { REFERENCES } from '@/lib/months/references'
import { WASTE_KINDS } from '@/lib/months/waste'
import { answers, bodyOf, operation, pathId, query } from './openapi-parts'

const write = { security: [{}, { bearer: [] }] }

const MONTH = pathId('month', { type: 'string', pattern: '^\\d{4}-(0[1-9]|1[0-2])$' })

/** Who changes the settings, and why. */
const SAID = [
  query('author', 'Who changes it', { type: 'string' }),
  query('reason', 'Why, above all where past days cost otherwise by it', { type: 'string' }),
]

/** The site's settings, and its months. */
export const monthPaths = {
  '/api/site': {
    get: operation('Price, calendar, currency and zone', {}, { 200: answers('The site', 'SiteAnswer') }),
    put: operation(
      'Change them; all logs are brought up to date',
      { ...write, parameters: SAID, requestBody: bodyOf('Site') },
      { 200: answers('The site', 'SiteAnswer') },
    ),
  },
  '/api/site/tariffs': {
    get: operation(
      'Prices, emission factors, holidays and shifts as a file',
      {},
      { 200: answers('The file', 'TariffFile') },
    ),
    put: operation(
      'Put a file of them in the place of the site’s',
      { ...write, parameters: SAID, requestBody: bodyOf('TariffFile') },
      { 200: answers('The file', 'TariffFile') },
    ),
  },
  '/api/site/history': {
    get: operation('Every state of the settings', {}, { 200: answers('Latest first', 'SiteHistory') }),
  },
  '/api/site/baselines': {
    get: operation('The months that machines are held against', {}, { 200: answers('Them', 'Baselines') }),
    post: operation(
      'Mark a machine’s baseline, or take the mark away',
      { ...write, requestBody: bodyOf('NewBaseline') },
      { 201: answers('The baselines', 'Baselines') },
    ),
  },
  '/api/months/{month}/events': {
    parameters: [MONTH],
    get: operation('What was done to a month', {}, { 200: answers('First to last', 'MonthEvents') }),
    post: operation(
      'Close a month, or open it again',
      { ...write, requestBody: bodyOf('NewMonthEvent') },
      { 201: answers('What was done to it', 'MonthEvents') },
    ),
  },
  '/api/months/{month}/change': {
    parameters: [MONTH],
    get: operation(
      'What the change of a figure of a machine’s month was split from',
      {
        parameters: [
          query('machine', 'The machine’s id', { type: 'string' }, true),
          query('figure', `One of ${FIGURES.join(', ')}`, { type: 'string' }, true),
          query('against', `One of ${REFERENCES.join(', ')}`, { type: 'string' }, true),
        ],
      },
      { 200: answers('Both sides, kind of phase by kind of phase', 'MonthChange') },
    ),
  },
  '/api/months/{month}/change/sum': {
    parameters: [MONTH],
    get: operation(
      'The change of waste over all machines that both months know, with its 95 % interval, and the parts of each',
      {
        parameters: [
          query('against', `One of ${REFERENCES.join(', ')}`, { type: 'string' }, true),
          query('kinds', `Kinds of waste, of ${WASTE_KINDS.join(', ')}, with commas between; left out: all`, {
            type: 'string',
          }),
        ],
      },
      { 200: answers('The sum, and of each machine its part', 'MonthChangeSum') },
    ),
  },
  '/api/months/{month}/logs': {
    parameters: [MONTH],
    get: operation(
      'The logs that a month stands on',
      {},
      {
        200: answers('By machine, with what was wrong with them and what they do not stand for', 'MonthLogs'),
      },
    ),
  },
  '/api/months/{month}': {
    parameters: [MONTH],
    get: operation('A month by machine', {}, { 200: answers('The month', 'Month') }),
  },
}
