import type { Location, Quantity } from '@/lib/contract/machine'

/**
 * Header words of the trade in English, German, French, Spanish and Italian (common practice, no
 * source). A name is compared in lower case, without accents, its parts separated by one space.
 */
export function normaliseName(name: string): string {
  return name
    .replace(/φ/g, 'phi')
    .replace(/ß/g, 'ss')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[^a-z0-9%]+/g, ' ')
    .replace(/\boel/g, 'ol')
    .replace(/foerder/g, 'forder')
    .replace(/rueck/g, 'ruck')
    .trim()
}

/** Columns that look like a channel and are none: set points, limits, extremes, totals, other media. */
const NEVER =
  /\b(?:set ?point|soll\w*|sollwert|consigne|consigna|setp|target|limit|alarm|min|max|minimum|maximum|peak|total|summe|totali[sz]\w*|counter|zahler|compteur|contador|contatore|count|row|energy|energie|energia|kwh|efficiency|wirkungsgrad|rendement|rendimiento|rendimento|reactive|apparent|blind\w*|schein\w*|reactiv\w*|apparente?|status|error|quality|air|luft|pneumatic\w*|ambient|umgebung\w*|battery|batterie|hydraulic power|hydraulische leistung|frequency|frequenz|accu\w*|akku\w*|speicher\w*|accumul\w*|filter|level|niveau|fullstand|position|weg|stroke|force|kraft|torque|drehmoment|vibration|se)\b/

/** States of the drive itself: a motor that turns says nothing of the machine's cycle. */
const DRIVE_STATE =
  /\b(?:pump\w*|motor\w*|moteur|motore|pompe|pompa|bomba|drive|antrieb)\b.*\b(?:running|run|on|ein|aktiv|betrieb|en marche|en marcha|in funzione|state)$/

const QUANTITIES: readonly (readonly [Quantity, RegExp])[] = [
  [
    'power-factor',
    /\bcos ?phi|\bcosphi|\bcos\b|power factor|leistungsfaktor|facteur de puissance|factor de potencia|fattore di potenza|\bpf\b/,
  ],
  [
    'temperature',
    /temp(?:eratur|erature|eratura|eratur)?\b|temperat|oltemp|\bt (?:oil|ol|huile|aceite|olio)\b|\boil t\b/,
  ],
  [
    'flow',
    /flow|durchfluss|volumenstrom|forderstrom|forder\w*menge|\bdebit|caudal|portata|olstrom|rucklaufmenge|leckol|\bq\d*\b|\bq[a-z]\b|\bqv\d*\b|\bfs\d+\b|\bfm\d*\b|leckage/,
  ],
  [
    'pressure',
    /press|druck|\bpres\b|\bpresion|\bp\d*\b|\bp[a-blpst]\b|\bps\d+\b|\bpt\d+\b|\bpsys\b|\bppump\w*\b|\bpload\b/,
  ],
  [
    'signal',
    /cycle|zyklus|\bciclo|solenoid|magnetventil|\bmagnet\b|electrovanne|electrovalvula|elettrovalvola|ventil\w*signal|valve|\bventil\b|vanne|valvula|valvola|\bidle\b|stand ?by|leerlauf|ralenti|reposo|riposo|\bdi\d+\b|digital|running|\bbetrieb\b|aktiv\b|\by\d+\b/,
  ],
  [
    'current',
    /current|strom|courant|corriente|corrente|\bamps?\b|amperage|intensite|intensidad|\bi\d*\b|\bi ?l?\d\b|\bil\d\b|\bi ?rms\b|\bi ?motor\b|stromaufnahme/,
  ],
  ['power', /power|leistung|puissance|potencia|potenza|\beps\d*\b|\bpw\b|\bpel\b|\bkw\b|leistungsaufnahme/],
  ['voltage', /voltage|spannung|\btension|tensione|voltaje|\bu\d*\b|\bul\d*\b|\bu ?l?\d+\b/],
  ['speed', /speed|drehzahl|vitesse|velocidad|velocita|\bgiri\b|\brpm\b|regime/],
]

/** The quantity a column's name speaks of, `never` for a known stranger, null where it says nothing. */
export function quantityOfName(normalised: string): Quantity | 'never' | null {
  if (NEVER.test(normalised) || DRIVE_STATE.test(normalised)) return 'never'
  for (const [quantity, words] of QUANTITIES) if (words.test(normalised)) return quantity
  return null
}

const LOAD =
  /\bload\b|\b(?:druck|press|pressure|pression|pressione|presion) [ab]\b|stange|kolbenseite|\btige\b|vastago|\bstelo\b|fondello|\blast\w*|zylinder|cylinder|cylindre|verin|cilindro|actuat|aktor|attuator|\bram\b|stempel|kolben|piston|\bcarga|\bcharge\b|\bcarico|after (?:the )?valve|verbraucher|consumer|\bp ?[ab]\b|\bpl\b|\bpload\b|\bport [ab]\b|rod|bore|cap end|kammer|chamber|presse?\b(?= ?kraft)|clamp|spann(?!ung)/
const TANK =
  /tank|tanque|\bbache\b|back ?pressure|gegendruck|contre ?pression|contra ?presion|contro ?pressione|return|ruck(?:lauf|leitung|strom)|retour|retorno|ritorno|reservoir|serbatoio|deposito|\bbac\b|scarico|\bp t\b/
const PUMP =
  /pump|bomba|pompa|pompe|system|sistem|discharge|descarga|supply|versorgung|haupt|\bmain\b|\bp line\b|\bhpu\b|aggregat|\bps\b|\bpp\b|\bpsys\b|refoulement|mandata|impulsion|alimentation|zulauf|impianto|circuit|\bline\b|leitung|linea|ligne/
const RELIEF =
  /relief|by ?pass|\bdbv\b|druckbegrenz|limit(?:eur|adora|atrice)|scarico|uberdruck|valvola di massima|surpression|alivio|\bq ?[tr]\b/
const DRAIN = /case|drain|leck|leak|fuite|fuga|trafilament|drenaje|drenaggio|carcasa|carter|gehause/
const FLOW_PUMP =
  /pump|forder|bomba|pompa|pompe|delivery|mandata|refoulement|impulsion|outlet|output|ausgang|\bq ?p\b/
const FLOW_SYSTEM =
  /\bline\b|leitung|system|anlage|circuit|linea|ligne|impianto|verbraucher|consumer|cylind|zylinder|cilindro|verin|actuat|\bload\b|\bcarga|\bcharge\b|supply|kreis|\bq ?s(?:ys)?\b|working|arbeits|machine|maschine/

/** Where the name says that the sensor sits; null where it does not. */
export function locationOfName(quantity: Quantity, normalised: string): Location | null {
  const at = (words: RegExp): boolean => words.test(normalised)
  switch (quantity) {
    case 'pressure':
      if (at(LOAD)) return 'load'
      if (at(TANK)) return 'tank-line'
      return at(PUMP) ? 'pump-outlet' : null
    case 'flow':
      if (at(DRAIN)) return 'case-drain'
      if (at(RELIEF) || at(TANK)) return 'relief-return'
      if (at(FLOW_PUMP)) return 'pump-outlet'
      return at(FLOW_SYSTEM) ? 'system-line' : null
    case 'power':
      return at(/shaft|welle|arbre|\beje\b|albero|mechan|mecani/) ? 'motor-shaft' : 'motor-supply'
    case 'current':
    case 'voltage':
    case 'power-factor':
      return 'motor-supply'
    case 'speed':
      return 'motor-shaft'
    case 'temperature':
      return at(/motor|wicklung|winding|moteur|motore/) ? null : 'oil'
    case 'signal':
      if (at(/idle|stand ?by|leerlauf|ralenti|reposo|riposo|minimo/)) return 'idle'
      if (at(/solenoid|magnet|valve|ventil|vanne|valvula|valvola|\by\d+\b/)) return 'solenoid'
      return at(/cycle|zyklus|ciclo/) ? 'cycle-active' : null
  }
}

/** The location of a quantity for which nothing was said, and the other reading worth naming. */
export const LIKELIEST_LOCATION: Readonly<Record<Quantity, readonly [Location, Location | null]>> = {
  pressure: ['pump-outlet', 'load'],
  flow: ['system-line', 'pump-outlet'],
  current: ['motor-supply', null],
  voltage: ['motor-supply', null],
  power: ['motor-supply', 'motor-shaft'],
  'power-factor': ['motor-supply', null],
  speed: ['motor-shaft', null],
  temperature: ['oil', null],
  signal: ['cycle-active', 'idle'],
}
