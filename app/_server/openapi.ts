import { OPTION_IDS } from '@/lib/contract/result'
import { measurePaths } from './openapi-measures'
import { monthPaths } from './openapi-months'
import {
  answers,
  bodyOf,
  componentSchemas,
  FILE_ANSWER,
  FILE_BODY,
  header,
  jsonQuery,
  operation,
  PIECE_BODY,
  pathId,
  query,
} from './openapi-parts'
import { viewPaths } from './openapi-views'
import { MOST_POINTS } from './samples-query'

const text = { type: 'string' }
const write = { security: [{}, { bearer: [] }] }
const fileName = query('name', 'What the file is called; else from Content-Disposition', text)
const layout = query(
  'layout',
  'Read the file as remembered of this layout: its id, or "fitting" for the one it has, if any',
  text,
)
const reading = jsonQuery(
  'reading',
  'How the file is to be read where it leaves that open; goes before the remembered layout',
  'Reading',
)
const upload = query(
  'upload',
  'Id of a whole upload of /api/uploads, in the place of a body: nothing is sent twice. Repeated: files of one recording, joined in time, the clocks of two loggers compared',
  text,
)
const line = query('line', 'Line the machine stands in', text)
const trade = query('trade', 'What the machine does', text)
const gone = { 204: answers('Deleted') }

const logPaths = {
  '/api/logs': {
    post: operation(
      'Import a file for a machine',
      {
        ...write,
        parameters: [
          query('machine', 'Id of the machine', text, true),
          fileName,
          upload,
          layout,
          reading,
          query('replaces', 'Id of a log of this machine that is deleted once this one is stored', text),
        ],
        requestBody: FILE_BODY,
      },
      {
        202: answers('Received; ask its url for the state', 'Received'),
        200: answers('The same file was received before: this is the first one', 'Received'),
      },
    ),
  },
  '/api/logs/{id}': {
    parameters: [pathId('id')],
    get: operation(
      'State of an import, and the result once it is done',
      {},
      { 200: answers('State, or state and result', 'Log', 'LogState') },
    ),
    delete: operation('Undo an import', write, gone),
  },
  '/api/logs/{id}/samples': {
    parameters: [pathId('id')],
    get: operation(
      'Envelope of a stretch: min, max and mean a bucket, extremes exact, null for no data',
      {
        parameters: [
          query('channels', 'Names with commas between, or repeated; else all logged channels', text),
          query('from', 'Elapsed seconds; the sample that holds there is the first', { type: 'number' }),
          query('to', 'Elapsed seconds', { type: 'number' }),
          query('points', 'Most buckets wanted', { type: 'integer', minimum: 2, maximum: MOST_POINTS }),
        ],
      },
      { 200: answers('The envelope', 'Samples') },
    ),
  },
  '/api/logs/{id}/corrections': {
    parameters: [pathId('id')],
    get: operation(
      'What people say of stretches of a log, in the order they said it; the later wins',
      {},
      { 200: answers('The corrections', 'Corrections') },
    ),
    post: operation(
      'Say which kind of phase a stretch is; the log is analysed again',
      { ...write, requestBody: bodyOf('NewCorrection') },
      { 201: answers('The correction', 'Correction') },
    ),
  },
  '/api/logs/{id}/corrections/{correction}': {
    parameters: [pathId('id'), pathId('correction')],
    delete: operation('Take a correction back; the log is analysed again', write, gone),
  },
  '/api/logs/{id}/evidence': {
    parameters: [pathId('id')],
    get: operation(
      'Evidence of sensors that was handed in after the import, in the order it came; the import report stays',
      {},
      { 200: answers('The evidence', 'EvidenceList') },
    ),
    post: operation(
      'Add evidence of a sensor: serial number, certificate, reading at rest; no figure changes',
      { ...write, requestBody: bodyOf('NewEvidence') },
      { 201: answers('The evidence as kept', 'Evidence') },
    ),
  },
  '/api/logs/{id}/explain': {
    parameters: [pathId('id')],
    get: operation(
      'How a figure was reached: formula, inputs, sensors, defaults, parts of its interval',
      {
        parameters: [
          query('figure', 'Path in the result, such as ledgerKWh.overRelief; "all" for all', text),
        ],
      },
      { 200: answers('The explanation; without a figure the paths of all', 'Explanation', 'Explanations') },
    ),
  },
  '/api/logs/{id}/options/{option}': {
    parameters: [pathId('id'), pathId('option', { type: 'string', enum: OPTION_IDS })],
    post: operation(
      'Replay an option with other settings, without analysing the log again; stores nothing',
      { requestBody: bodyOf('MovedSettings') },
      {
        200: answers('The option with these settings, and how far each may be moved', 'MovedOption'),
        202: answers('The log is being taken up: ask again', 'MovedOptionState'),
      },
    ),
  },
  '/api/logs/{id}/reading': {
    parameters: [pathId('id')],
    put: operation(
      'Say anew how a stored file is to be read; it is read again. {} takes back what was said',
      { ...write, requestBody: bodyOf('Reading') },
      { 200: answers('The log, whose figures are being brought up to date', 'LogState') },
    ),
  },
  '/api/logs/{id}/inspections': {
    parameters: [pathId('id')],
    post: operation(
      'What would be understood of a stored log’s files if they were read so, and what that leaves open; changes nothing',
      { ...write, requestBody: bodyOf('Reading') },
      { 200: answers('What would be understood', 'Inspection') },
    ),
  },
  '/api/logs/{id}/file': {
    parameters: [pathId('id')],
    get: operation('The original file', {}, { 200: FILE_ANSWER }),
  },
  '/api/inspections': {
    post: operation(
      'What would be understood of a file; stores nothing',
      {
        ...write,
        parameters: [query('machine', 'Id of the machine', text), fileName, upload, layout, reading],
        requestBody: FILE_BODY,
      },
      {
        200: answers('What was understood, and what the file leaves open', 'Inspection'),
        422: answers('Why its rows cannot be understood; with its columns where it has any', 'Refusal'),
      },
    ),
  },
}

const version = header('Tus-Resumable', 'Version of the protocol: 1.0.0')
const tusAnswers = { 204: answers('As the tus protocol 1.0.0 says; Upload-Offset tells what is there') }

/** Uploads on a bad connection, by the open tus protocol 1.0.0: creation, creation-with-upload, termination, expiration. */
const uploadPaths = {
  '/api/uploads': {
    post: operation(
      'Begin an upload that can be gone on with (tus 1.0.0); Location is its address. It is removed three days later',
      {
        ...write,
        parameters: [
          version,
          header('Upload-Length', 'Length of the file in bytes'),
          header('Upload-Metadata', 'filename and its base64 form'),
        ],
      },
      { 201: answers('Begun: send the bytes to its address, then name it as ?upload=') },
    ),
    options: operation('Which versions and extensions of tus are spoken', {}, tusAnswers),
  },
  '/api/uploads/{upload}': {
    parameters: [pathId('upload')],
    head: operation(
      'How much of it is there (Upload-Offset), after a broken connection',
      { ...write, parameters: [version] },
      { 200: answers('Upload-Offset and Upload-Length') },
    ),
    patch: operation(
      'Send the bytes from Upload-Offset on, as many as one likes',
      {
        ...write,
        parameters: [version, header('Upload-Offset', 'What a HEAD request answers')],
        requestBody: PIECE_BODY,
      },
      tusAnswers,
    ),
    delete: operation('Give it up', { ...write, parameters: [version] }, gone),
    options: operation('Which versions and extensions of tus are spoken', {}, tusAnswers),
  },
}

const plantPaths = {
  '/api/machines': {
    get: operation('All machines', {}, { 200: answers('The machines', 'Machines') }),
    post: operation(
      'Make a machine',
      { ...write, parameters: [line, trade], requestBody: bodyOf('Machine') },
      { 201: answers('The machine', 'MachineAnswer') },
    ),
  },
  '/api/machines/{id}': {
    parameters: [pathId('id')],
    get: operation('One machine', {}, { 200: answers('The machine', 'MachineAnswer') }),
    put: operation(
      'Change its set-up; its logs are brought up to date',
      { ...write, parameters: [line, trade], requestBody: bodyOf('Machine') },
      { 200: answers('The machine', 'MachineAnswer') },
    ),
    delete: operation('Delete it with its logs', write, gone),
  },
  '/api/machines/{id}/layouts': {
    parameters: [pathId('id')],
    get: operation(
      'How files of known layouts are read for this machine',
      {},
      { 200: answers('The layouts, latest first', 'Layouts') },
    ),
    post: operation(
      'Remember how files of a layout are to be read, in the place of what was remembered of it',
      { ...write, requestBody: bodyOf('NewLayout') },
      { 201: answers('The layout', 'Layout') },
    ),
  },
  '/api/machines/{id}/layouts/{layout}': {
    parameters: [pathId('id'), pathId('layout')],
    delete: operation('Forget a layout; logs that were read by it stay as they are', write, gone),
  },
}

/** The published description of the HTTP interface (OpenAPI 3.1), from the schemas that validate it. */
export function openApi() {
  return {
    openapi: '3.1.0',
    info: {
      title: 'Tankward',
      version: '1',
      description: 'Finds, proves, costs and cuts the power that hydraulic power units waste.',
    },
    paths: { ...logPaths, ...uploadPaths, ...plantPaths, ...viewPaths, ...monthPaths, ...measurePaths },
    components: {
      schemas: componentSchemas(),
      securitySchemes: { bearer: { type: 'http', scheme: 'bearer' } },
    },
  }
}
