import type { Explanations } from '../explanations'

/** Formulas written out; Σ runs over the samples, each of which holds until the next and never across a gap. */
export const formulas: Explanations['formulas'] = {
  'input-over-time': 'E = Σ P_e · Δt',
  'input-less-shaft': 'E = Σ (P_e − P_shaft) · Δt',
  'shaft-less-hydraulic': 'E = Σ (P_shaft − p · Q_pump) · Δt, less what is unaccounted',
  'pressure-times-relief-flow': 'E = Σ p · Q_relief · Δt',
  'pressure-times-unloading-flow': 'E = Σ p · Q_unload · Δt',
  'pressure-times-system-flow': 'E = Σ p · Q_system · Δt',
  'drop-times-system-flow': 'E = Σ (p − p_load) · Q_system · Δt',
  'load-pressure-times-system-flow': 'E = Σ p_load · Q_system · Δt',
  contradiction: 'E = Σ (p · Q_residual + P_contradicted) · Δt',
  'input-while-idle': 'E = Σ P_e · Δt over idle phases',
  'input-by-hydraulic-share': 'E = Σ P_e · (P_stream ÷ P_hydraulic) · Δt outside idle phases',
  'contradicted-input': 'E = Σ (p · Q_residual + P_contradicted) · Δt outside idle phases',
  'auxiliaries-over-time': 'E = P_always · t_logged + P_with motor · t_running, as entered for the machine',
  'own-circuits-over-time': 'E = Σ p_own · Q_own · Δt while the motor runs, by the models of those pumps',
  'part-of-input': 'share = E_part ÷ E_in',
  'time-in-phase': 't = Σ Δt over the phases of this kind',
  'idle-at-longest-hold':
    'E = Σ P_e · Δt over idle phases, a dead-headed stretch counting as idle beyond t_hold',
  'idle-cost-per-year': 'cost = E_idle · (h_planned ÷ h_running) · price',
  'cycles-counted':
    'n = whole repeats of the recurring pattern of phases; a cut first or last one does not count',
  'mean-cycle-time': 't_cycle = Σ length of whole cycles ÷ n',
  'spread-of-cycle-time': 's = √(Σ (length − t_cycle)² ÷ (n − 1))',
  'energy-per-cycle': 'E_cycle = E of whole cycles ÷ n',
  'relief-line':
    'p = p_set − (p_set − p_crack) · (1 − Q_relief ÷ Q_rated), fitted to means of steady stretches',
  'relief-override': 'override = (p_set − p_crack) ÷ Q_rated',
  'usual-back-pressure': 'median of p_tank over the time in which the pump turns',
  'cracking-over-setting': 'ratio = p_crack ÷ p_set',
  'finding-in-log': 'E = E_finding · (E_in ÷ E_hydraulic)',
  'volumetric-efficiency': 'η_v = Q_pump (model, fitted to the log) ÷ (V_g · n) (ISO 4391)',
  'pump-efficiency': 'η = Σ p · Q_pump · Δt ÷ Σ P_shaft · Δt over the steady steps in the field',
  'finding-cost-per-year': 'cost = E_finding · (E_in ÷ E_hydraulic) · (h_planned ÷ h_running) · price',
  nmbe: 'NMBE = Σ (P_model − P_logged) ÷ ((n − 1) · mean P_logged) over n averaging intervals (ASHRAE Guideline 14)',
  'cv-rmse':
    'CV(RMSE) = √(Σ (P_model − P_logged)² ÷ (n − 1)) ÷ mean P_logged over n averaging intervals (ASHRAE Guideline 14)',
  'saved-share': 'share = (E_before − E_after) ÷ E_before, both by the models on the same trace',
  'saved-in-log': 'E_saved = share · E_in',
  'saved-per-year': 'E_saved = share · E_in · (h_planned ÷ h_running)',
  'saved-cooling': 'E_cooling = electricity per heat · P_heat · h_planned',
  'saved-cost': 'cost = (E_saved + E_cooling) · price',
  'saved-demand-cost':
    'demand saved = (P_peak before − P_peak after) · demand price · coincidence · 12 months',
  'saved-emission': 'CO₂ = (E_saved + E_cooling) · emission factor',
  'less-heat': 'P = (Σ P_shaft before · Δt − Σ P_shaft after · Δt) ÷ h_running',
  investment: 'investment, low to high as entered',
  maintenance: 'upkeep, low to high as entered; nil where nothing was',
  swing: 'swing = NPV_high (at x_high) − NPV_low (at x_low), all else as it is',
  'saved-with-cooling': 'E = E_saved + E_cooling, added to what is done before',
  'saved-money': 'money saved = cost saved + demand saved − upkeep',
  'net-present-value': 'NPV = Σ money saved in year y ÷ (1 + r)^y − investment, y = 1 … T',
  'simple-payback': 'payback = investment ÷ money saved a year',
  'discounted-payback': 'discounted payback = −ln(1 − r · payback) ÷ ln(1 + r)',
  'cost-of-saved-energy':
    'cost of a kWh = (investment · CRF + upkeep) ÷ (E_saved + E_cooling), CRF = r ÷ (1 − (1 + r)^−T)',
  'internal-rate-of-return':
    'the rate r at which Σ money saved in year y ÷ (1 + r)^y = investment, y = 1 … T',
  'payback-probability':
    'share of draws of saving, hours, price, investment and upkeep with investment ÷ money saved a year ≤ wanted payback',
  'cycle-time-change': 'change = working time after ÷ before − 1',
}
