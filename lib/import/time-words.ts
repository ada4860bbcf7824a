/** Names of time columns in English, German, French, Spanish and Italian (common practice, no source). */
export const TIME_WORDS =
  /(?:^|[^a-z])(?:t|ts|time|times|timestamp|datetime|date|datum|zeit\w*|uhrzeit|heure|temps|horodat\w*|hora|fecha|tiempo|ora|data|tempo|elapsed|duration|dauer|sec|secs|seconds?|sekunden?|s|ms|epoch|unix|clock|stunden?|minuten?)(?=$|[^a-z])|zeit|time/i
