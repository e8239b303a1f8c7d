/** Learning: how likely measured blur is, and what it says of hands, wind, plant and lens. */
export {
  blurExcess,
  chanceBlurAbove,
  chanceSingleMadeMore,
  chanceSubjectMadeMore,
  logChanceOfBlur,
  type BlurExcess,
  type BlurShares,
} from './blur-of-a-frame.ts';
export {
  chanceMeasuredAbove,
  departedShares,
  logChanceOfFrame,
  type Departures,
  type MeasuredBlur,
  type NominalFrame,
} from './frame-evidence.ts';
export {
  gaussianPosterior,
  type EvidenceAlternative,
  type EvidenceGroup,
  type EvidenceTerm,
  type NormalPosterior,
  type NormalPrior,
} from './gaussian-posterior.ts';
export { normalPoints } from './normal-points.ts';
