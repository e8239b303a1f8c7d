/** What the photographer keeps, how devices' notebooks merge, and the one way by which a place leaves the house. */

// What is kept.
export { DELIVERY_USES, deliverySchema, type Delivery } from './kept/delivery.ts';
export { freeHoursSchema, REPEATS, type FreeHours } from './kept/free-hours.ts';
export { KEPT_KINDS, KINDS, type KeptByKind, type KeptKind } from './kept/kinds.ts';
export {
  kitSchema,
  LIGHT_MODIFIERS,
  SUPPORTS,
  type Camera,
  type KitPart,
  type Lens,
  type LightModifier,
  type Support,
} from './kept/kit.ts';
export { outingSchema, type Outing, type WeatherForecast, type WeatherFound } from './kept/outing.ts';
export { positionSchema, type Position } from './kept/position.ts';
export { CERTAINTIES, recordSchema, type KeptRecord } from './kept/record.ts';
export { setUpSchema, type KeptExposure, type SetUp } from './kept/set-up.ts';
export { LANDFORMS, SHELTERS, siteSchema, type Landform, type Site } from './kept/site.ts';
export {
  OPENINGS,
  SENSITIVITIES,
  STEMS,
  subjectSchema,
  type Sensitivity,
  type Subject,
  type Sway,
} from './kept/subject.ts';
export {
  DROPS,
  INSECTS,
  LIGHTS,
  STILLNESSES,
  wantedPictureSchema,
  type WantedPicture,
} from './kept/wanted-picture.ts';
