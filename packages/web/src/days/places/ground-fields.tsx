/** What else sharpens the answer at a place. All of it may stay empty. */
import type { Site } from '@tepal/notebook';
import { DIRECTIONS, directionWord, LANDFORM_MEANINGS } from './site-of-form.ts';

const NumberField = (props: { name: string; label: string; value: number | null | undefined }) => (
  <div class="field">
    <label for={`site-${props.name}`}>{props.label}</label>
    <input
      id={`site-${props.name}`}
      name={props.name}
      inputMode="decimal"
      autocomplete="off"
      defaultValue={props.value === null || props.value === undefined ? '' : String(props.value)}
    />
  </div>
);

const DirectionField = (props: { name: string; label: string; deg: number | null | undefined }) => (
  <div class="field">
    <label for={`site-${props.name}`}>{props.label}</label>
    <select id={`site-${props.name}`} name={props.name}>
      <option value="">not known</option>
      {DIRECTIONS.map((direction) => (
        <option key={direction} selected={direction === directionWord(props.deg)}>
          {direction}
        </option>
      ))}
    </select>
  </div>
);

export function GroundFields({ site }: { site: Site | null }) {
  const landform = site?.landform ?? null;
  const barrier = site?.barrier ?? null;
  return (
    <details class="more" open={site !== null}>
      <summary>More about the ground, all of it optional</summary>
      <div class="fields">
        <NumberField name="altitudeM" label="Altitude, m" value={site?.position.altitudeM} />
        <NumberField name="slopeDeg" label="Slope, degrees" value={site?.slopeDeg} />
        <DirectionField name="aspect" label="It falls to the" deg={site?.aspectDeg} />
        <NumberField
          name="vegetationHeightM"
          label="Vegetation round the plant, m"
          value={site?.vegetationHeightM}
        />
        <div class="field">
          <label for="site-landform">Form of the ground</label>
          <select id="site-landform" name="landform">
            <option value="">not known</option>
            {Object.entries(LANDFORM_MEANINGS).map(([kind, meaning]) => (
              <option key={kind} value={kind} selected={kind === landform?.kind}>
                {kind}: {meaning}
              </option>
            ))}
          </select>
        </div>
        <NumberField name="landformHeightM" label="Its height, foot to top, m" value={landform?.heightM} />
        <NumberField
          name="landformHalfLengthM"
          label="From its top to half the height, m"
          value={landform?.halfLengthM}
        />
        <DirectionField name="landformBearing" label="Uphill across it is" deg={landform?.bearingDeg} />
        <NumberField name="barrierHeightM" label="Hedge or wall: height, m" value={barrier?.heightM} />
        <NumberField name="barrierDistanceM" label="From the plant to it, m" value={barrier?.distanceM} />
        <DirectionField name="barrierBearing" label="It lies to the" deg={barrier?.bearingDeg} />
        <NumberField
          name="barrierLengthM"
          label="Its length, m; empty for long"
          value={barrier?.halfLengthM === null || barrier === null ? null : barrier.halfLengthM * 2}
        />
        <div class="field">
          <label for="site-barrierGaps">Gaps in it</label>
          <select id="site-barrierGaps" name="barrierGaps">
            <option value="">not known: half</option>
            {barrier !== null && ![0, 0.4, 0.6].includes(barrier.porosity) && (
              <option value={String(barrier.porosity)} selected>
                as noted, {barrier.porosity}
              </option>
            )}
            <option value="0" selected={barrier?.porosity === 0}>
              a wall, none
            </option>
            <option value="0.4" selected={barrier?.porosity === 0.4}>
              a thick hedge, 0.4
            </option>
            <option value="0.6" selected={barrier?.porosity === 0.6}>
              a thin hedge, 0.6
            </option>
          </select>
        </div>
        <div class="field wide">
          <label for="site-access">How one gets there</label>
          <textarea id="site-access" name="access" rows={2} defaultValue={site?.access ?? ''} />
        </div>
        <div class="field wide">
          <label for="site-cautions">What to mind there, one line each</label>
          <textarea
            id="site-cautions"
            name="cautions"
            rows={2}
            defaultValue={site?.cautions.join('\n') ?? ''}
          />
        </div>
      </div>
    </details>
  );
}
