// The rig in side view as the lever it is: a notched bar on a wedge at the rear axle group, what the ground carries as
// arrows up at the axles, the coupling load as an arrow down at the bar's end, and the trailer's bar beside it. Along the
// rig everything is to scale where it was measured; a trailer's axle spacing is not asked for and drawn at a usual size.

import {svg} from './dom.js';

const spacing = 850, guess = {overhang: 1100, reach: 3200, jockey: 450, apart: 700}; // mm, only to draw what was not measured
const notch = 500; // mm between notches

const short = text => (text ? text.split(' ±')[0] : null);

/// `state` of the view, `rig` of the view, `width` in CSS pixels.
export function lever(rig, state, width) {
  const tow = rig.tow.axles.map(a => ({at: a.at, words: a.words, group: a.group}));
  const rear = tow.filter(a => a.group === 'rear'), pivot = rear.reduce((sum, a) => sum + a.at, 0) / (rear.length || 1);
  const trailer = rig.trailer;
  const ball = pivot + (rig.tow.overhang ?? guess.overhang);
  const nose = trailer ? ball + (state.hitched ? 0 : guess.apart) : null;
  const group = trailer ? nose + (trailer.coupling_to_axles ?? guess.reach) : null;
  const wheels = trailer ? Array.from({length: trailer.axles}, (_, i) => group + (i - (trailer.axles - 1) / 2) * spacing) : [];
  const first = tow[0].at - 600, last = trailer ? wheels[wheels.length - 1] + 900 : ball + 200;
  const margin = 20, scale = (width - 2 * margin) / (last - first), x = mm => margin + (mm - first) * scale;
  const height = 192, barY = 78, ground = 132, r = Math.max(7, Math.min(13, 370 * scale));
  const load = (vehicle, n) => short((state.axles.find(a => a.vehicle === vehicle && a.axle === n) || {}).text);
  const support = state.places.find(p => p.extent === 'coupling' || p.extent === 'jockey');
  const said = [];

  const label = (px, y, text, kind) => {
    const half = Math.min(width / 2, text.length * 3.7); // about half of what the text takes
    return svg('text', {x: Math.max(half, Math.min(width - half, px)), y, class: `t ${kind || ''}`, 'text-anchor': 'middle'}, text);
  };
  const up = (px, text, level) => [
    svg('path', {class: text ? 'arrow up' : 'arrow none', d: `M${px} ${ground + 22}V${ground + 5}m-4.5 6 4.5-6 4.5 6`}),
    label(px, ground + 37 + level * 15, text || '?', text ? '' : 'faint')];
  const bar = (from, to, fromY, toY) => {
    const out = [svg('path.bar', {d: `M${x(from)} ${fromY - 3}L${x(to)} ${toY - 5}v10L${x(from)} ${fromY + 3}z`})];
    for (let mm = notch; from + mm < to - 100; mm += notch) {
      const y = fromY + (toY - fromY) * mm / (to - from);
      out.push(svg('path.notch', {d: `M${x(from + mm)} ${y - 4}v-5`}));
    }
    return out;
  };
  const leg = (px, y) => svg('path.leg', {d: `M${px} ${y}V${ground - r}`});
  const wheel = px => svg('circle.wheel', {cx: px, cy: ground - r, r});
  const axles = (vehicle, list, y) => {
    let before = -1e9, level = 0;
    return list.map((a, i) => {
      const px = x(a), text = load(vehicle, i + 1);
      level = px - before < 76 ? 1 - level : 0;
      before = px;
      return [leg(px, y), wheel(px), up(px, text, level)];
    });
  };

  tow.forEach((a, i) => said.push(`${a.words} ${load('tow', i + 1) || 'not known yet'}`));
  wheels.forEach((_, i) => said.push(`trailer axle ${i + 1} ${load('trailer', i + 1) || 'not known yet'}`));
  if (state.coupling) said.push(`${state.coupling.words} ${state.coupling.text || 'not known yet'}`);
  const coupling = state.coupling && short(state.coupling.text);
  const parts = [svg('path.ground', {d: `M0 ${ground}H${width}`}), svg('path.hatch', {d: hatch(width, ground)}),
    bar(first, ball, barY, barY), svg('path.wedge', {d: `M${x(pivot)} ${barY + 5}l${r + 9} ${ground - barY - 5}h${-2 * (r + 9)}z`}),
    axles('tow', tow.map(a => a.at), barY + 4)];
  if (trailer) {
    const noseY = barY, tailY = barY;
    parts.push(bar(nose, last - 300, noseY, tailY), axles('trailer', wheels, barY + 4),
      svg('circle.ball', {cx: x(ball), cy: barY, r: 5}));
    if (state.hitched) {
      parts.push(svg('path.arrow.down', {d: `M${x(ball)} 36V${barY - 10}m-5-7 5 7 5-7`}), label(x(ball), 29, coupling || '?', coupling ? 'strong' : 'faint'));
    } else {
      const foot = nose + (support && support.extent === 'jockey' ? trailer.coupling_to_jockey ?? guess.jockey : 0);
      const text = support && support.readings.length ? short(support.figure) || coupling : coupling;
      parts.push(svg('path.leg.thin', {d: `M${x(foot)} ${barY + 4}V${ground}`}));
      if (support) parts.push(svg('path.pad', {d: `M${x(foot) - 9} ${ground}h18v-5h-18z`}));
      parts.push(svg('path', {class: coupling ? 'arrow down' : 'arrow none', d: `M${x(nose)} 36V${barY - 10}m-5-7 5 7 5-7`}), label(x(nose), 29, text || '?', text ? 'strong' : 'faint'));
    }
    parts.push(label(x((first + pivot) / 2), 14, rig.tow.label || 'tow vehicle', 'name'), label(x(group), 14, trailer.label || 'trailer', 'name'));
  }
  return svg('svg.lever', {viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', label: `Rig in “${state.name}”: ${said.join(', ')}.`}, parts);
}

function hatch(width, y) {
  let d = '';
  for (let px = 4; px < width; px += 9) d += `M${px} ${y}l-4 4`;
  return d;
}
