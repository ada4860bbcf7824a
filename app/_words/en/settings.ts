import type { Explanations } from '../explanations'

/** Settings an option reports: name and unit. */
export const settings: Explanations['settings'] = {
  ventBar: ['Vent pressure', 'bar'],
  delayS: ['Time at full pressure in each idle', 's'],
  unloadBar: ['Unloading pressure', 'bar'],
  lowSettingBar: ['Lower setting', 'bar'],
  marginBar: ['Margin above the load', 'bar'],
  settingBar: ['New setting', 'bar'],
  smallPumpCm3: ['Small pump', 'cm³'],
  compensatorBar: ['Compensator pressure', 'bar'],
  minimumSpeedShare: ['Lowest speed, share of rated', '%'],
  cycleTimeLimitShare: ['Longer working time allowed', '%'],
  leakageShareOfNameplate: ['Leakage found, share of the nameplate’s', '%'],
  ratedEfficiency: ['Rated efficiency', '%'],
  pumpCm3: ['Pump displacement', 'cm³'],
  lowBar: ['Lowest pressure left for the work', 'bar'],
  reloadBar: ['Charging starts at', 'bar'],
  highBar: ['Charging ends at', 'bar'],
  gasLitres: ['Gas volume', 'L'],
  restS: ['Shortest rest between stop and start', 's'],
  startsPerHour: ['Most starts the motor allows', 'per hour'],
  waitS: ['Waiting time before the stop', 's'],
  efficiencyClass: ['Efficiency class', ''],
}
