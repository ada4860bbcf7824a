import type { ErrorValues } from '@/lib/errors'

interface Said {
  readonly status: number
  readonly title: string
  /** The sentence; `{name}` stands for the value of that name. */
  readonly detail: string
}

/** What the HTTP interface itself can refuse. What files and machines get wrong has its words in app/_words. */
const PROBLEMS = {
  'token-missing': {
    status: 401,
    title: 'Token missing or wrong',
    detail: 'Writing needs the header "Authorization: Bearer …" with the token this server was started with.',
  },
  'cross-site': {
    status: 403,
    title: 'Sent by another site',
    detail: 'A page of another origin sent this. Only pages of this app, and scripts, may write.',
  },
  'unknown-log': { status: 404, title: 'No such log', detail: 'There is no log {id}.' },
  'unknown-correction': {
    status: 404,
    title: 'No such correction',
    detail: 'The log {id} has no correction {correction}; it may have been taken back already.',
  },
  'unknown-sensor': {
    status: 400,
    title: 'No such sensor',
    detail: 'The log {id} has no column "{column}" that is read. It has: {columns}.',
  },
  'unknown-measure': { status: 404, title: 'No such measure', detail: 'There is no measure {id}.' },
  'unknown-trial': {
    status: 404,
    title: 'No such trial',
    detail: 'The log {id} has no trial {trial}; it may have been taken back already.',
  },
  'nothing-promised': {
    status: 409,
    title: 'No saving to hold on to',
    detail: 'The result of log {id} computes no saving for the option "{option}".',
  },
  'state-not-next': {
    status: 409,
    title: 'Not the next step',
    detail: 'A measure that is {from} cannot become {to}. It may become: {next}.',
  },
  'reason-missing': { status: 422, title: 'Reason missing', detail: 'Say why the measure is rejected.' },
  'nothing-proven': {
    status: 409,
    title: 'Nothing proven yet',
    detail: 'The logs before and after are not enough for a verdict; the proof says what is missing.',
  },
  'step-meanwhile': {
    status: 409,
    title: 'Somebody was quicker',
    detail: 'The measure {id} took another step meanwhile. Look at it again.',
  },
  'month-closed-already': {
    status: 409,
    title: 'Month closed already',
    detail: '{month} is closed: open it again, with the reason, before it is closed anew.',
  },
  'month-not-closed': { status: 409, title: 'Month not closed', detail: '{month} is open already.' },
  'month-without-data': {
    status: 409,
    title: 'Nothing to close',
    detail: 'No log has a date in {month}: there are no figures to keep.',
  },
  'unknown-layout': {
    status: 404,
    title: 'No such layout',
    detail: 'The machine {machine} remembers no layout {id}; it may have been forgotten.',
  },
  'unknown-view': { status: 404, title: 'No such view', detail: 'There is no saved view {id}.' },
  'unknown-report': {
    status: 404,
    title: 'No such report',
    detail: 'There is no report {id}, or no such file of it.',
  },
  'nothing-to-report': {
    status: 404,
    title: 'Nothing to report of',
    detail: 'There is no analysed log of the {kind} "{subject}".',
  },
  'unknown-machine': { status: 404, title: 'No such machine', detail: 'There is no machine {id}.' },
  'machine-missing': {
    status: 400,
    title: 'Machine missing',
    detail: 'Say whose log this is: add ?machine=ID with the id of a machine from /api/machines.',
  },
  'unknown-channel': {
    status: 400,
    title: 'No such channel',
    detail: 'The log has no channel "{channel}". It has: {known}.',
  },
  'bad-query': {
    status: 400,
    title: 'Query not understood',
    detail: '{name}: expected {expected}, got "{actual}".',
  },
  'not-ready': {
    status: 409,
    title: 'Not imported yet',
    detail: 'The log {id} is in state "{state}": ask /api/logs/{id} until it is "done".',
  },
  'account-not-stored': {
    status: 409,
    title: 'Account over time not stored yet',
    detail:
      'Of the log {id} logged channels are stored, and the account as a whole; sample by sample it follows with the options, once /api/logs/{id} says "done" and its figures are up to date.',
  },
  'unknown-figure': {
    status: 404,
    title: 'No such figure',
    detail: 'The log {id} has no figure "{figure}". Without ?figure= this address lists those it has.',
  },
  'not-explained': {
    status: 409,
    title: 'No explanations yet',
    detail:
      'The log {id} was analysed before explanations were kept. They are there once it is analysed again.',
  },
  'unknown-option': {
    status: 404,
    title: 'No such option',
    detail: 'There is no option "{option}". There are: {known}.',
  },
  'unknown-setting': {
    status: 422,
    title: 'No such setting',
    detail: 'The option "{option}" has no setting "{setting}" that can be moved. It reports: {known}.',
  },
  'setting-out-of-range': {
    status: 422,
    title: 'Setting out of range',
    detail: '{setting}: expected a number from {low} to {high}, got {value}.',
  },
  'not-current': {
    status: 409,
    title: 'Figures of an earlier set-up',
    detail:
      'The log {id} has not been analysed with the set-up of today. Ask again once its figures are up to date.',
  },
  'empty-body': {
    status: 400,
    title: 'Nothing received',
    detail: 'The request has no body: send the file itself.',
  },
  'body-cut': {
    status: 400,
    title: 'Body cut short',
    detail: '{received} bytes arrived of the {announced} announced. Nothing was stored; send the file again.',
  },
  'form-body': {
    status: 415,
    title: 'Send the file itself',
    detail: 'A form was sent. Send the file as the raw body, for example with curl --data-binary @LOG.csv.',
  },
  'unknown-encoding': {
    status: 415,
    title: 'Content-Encoding not supported',
    detail: 'The body came as "{encoding}". Send it plain or with Content-Encoding: gzip.',
  },
  'not-json': { status: 400, title: 'Not JSON', detail: 'The body is not valid JSON: {reason}' },
  'invalid-shape': {
    status: 422,
    title: 'Fields missing or wrong',
    detail: 'The JSON does not have the shape wanted; "issues" lists each field with what was expected.',
  },
  'unknown-upload': {
    status: 404,
    title: 'No such upload',
    detail: 'There is no upload {id}; three days after it began it is removed. Send the file again.',
  },
  'upload-incomplete': {
    status: 409,
    title: 'Upload not complete',
    detail: 'Of the upload {id} {received} bytes are there of {announced}. Send the rest first.',
  },
  'upload-offset': {
    status: 409,
    title: 'Upload stands elsewhere',
    detail: 'Upload-Offset must be what a HEAD request answers, so that no byte is missing or doubled.',
  },
  'upload-version': {
    status: 412,
    title: 'Protocol version missing or not spoken',
    detail: 'Resumable uploads follow the tus protocol: send the header Tus-Resumable: 1.0.0.',
  },
  'upload-too-long': {
    status: 413,
    title: 'More than announced',
    detail: 'The upload would grow beyond its Upload-Length. Nothing of this request was taken.',
  },
  'upload-locked': {
    status: 423,
    title: 'Upload in use',
    detail: 'Another request still writes to this upload. Try again in some seconds.',
  },
  'bad-upload': {
    status: 400,
    title: 'Upload request not understood',
    detail: 'Resumable uploads follow the tus protocol 1.0.0: {reason}',
  },
  'disk-full': {
    status: 507,
    title: 'The server’s disk is full',
    detail: 'There is no room for this. Nothing was half stored, and what was there before is intact.',
  },
  'database-lost': {
    status: 503,
    title: 'The database cannot be reached',
    detail: 'Nothing was half stored, and what was there before is intact. Try again once it is back.',
  },
  'out-of-memory': {
    status: 507,
    title: 'Too long for this server’s memory',
    detail:
      'A recording is held in memory while it is read. What was there before is intact. Cut the file into shorter recordings, or run the server with more memory.',
  },
  'data-folder-in-use': {
    status: 503,
    title: 'Database in use',
    detail: 'Another process owns the database folder. Stop it, or set TANKWARD_DATA or DATABASE_URL.',
  },
  internal: {
    status: 500,
    title: 'Internal fault',
    detail: 'Something went wrong in the server. Its log says what; nothing was half stored.',
  },
} satisfies Record<string, Said>

export type ProblemCode = keyof typeof PROBLEMS

/** Thrown by route handlers to answer with a problem document. */
export class ApiProblem extends Error {
  constructor(
    readonly code: ProblemCode,
    readonly values: ErrorValues = {},
    readonly extra: Readonly<Record<string, unknown>> = {},
  ) {
    super(code)
    this.name = 'ApiProblem'
  }
}

interface Document {
  readonly status: number
  readonly code: string
  readonly title: string
  readonly detail: string
  readonly extra?: Readonly<Record<string, unknown>>
}

/** An RFC 9457 problem document. `type` names the kind of problem; it is not a page. */
export function problemResponse({ status, code, title, detail, extra = {} }: Document): Response {
  const body = { type: `/problems/${code}`, title, status, detail, code, ...extra }
  const headers = new Headers({ 'Content-Type': 'application/problem+json', 'Cache-Control': 'no-store' })
  if (status === 401) headers.set('WWW-Authenticate', 'Bearer')
  return new Response(JSON.stringify(body), { status, headers })
}

export function answerProblem(problem: ApiProblem): Response {
  const { status, title, detail } = PROBLEMS[problem.code]
  const filled = detail.replace(/\{(\w+)\}/g, (_, name: string) => String(problem.values[name] ?? ''))
  const extra = { values: problem.values, ...problem.extra }
  return problemResponse({ status, code: problem.code, title, detail: filled, extra })
}
