/*
 * The crash of lib/event in plain C, the same natural code: a struct for an occupant, one function to move it on, the same
 * searches for the outputs. Reads the crash from standard input and prints, for stepping alone and for the whole crash with its
 * outputs, the time of one in microseconds; then the outputs, to be compared.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define MOST 2
#define POINTS 16
#define VEHICLE_COLUMNS 2
#define SEAT_COLUMNS 4
#define GRAVITY 9.80665

typedef struct {
  double torsoMass, headMass, slack, beltStiffness, beltReach, bagFireTime, torsoGap, torsoBagStiffness, headGap, headBagStiffness,
      space, interiorStiffness, neckStiffness, neckDamping;
  double torsoEase, headEase, torsoStilling, headStilling, fireTime, torso, head, torsoVelocity, headVelocity, torsoAcceleration,
      headAcceleration, taut, torsoBag, headBag, nodded, bagOpening;
  int at;
} Seat;

typedef struct {
  double mass, speed, noseLength, give, ease;
  int points, seats;
  double crush[POINTS], force[POINTS];
  double position, velocity, acceleration, peak, loss, push;
  Seat seat[MOST];
  int at;
} Vehicle;

typedef struct {
  double from[2 * POINTS], forceFrom[2 * POINTS], crushAFrom[2 * POINTS], crushBFrom[2 * POINTS];
  int parts, part, locked;
  double partFrom, partEnd, partForce, partCrushA, partCrushB, stiffness, shareA, shareB, unloadStiffness, force, peakForce,
      peakOverlap, crushA, crushB;
} Fronts;

typedef struct {
  Vehicle *a, *b;
  Fronts fronts;
  double reducedMass, step, time, h, nextFire, commonVelocity, separation;
  double *log;
  int size;
} Motion;

typedef struct {
  double deltaV[2], peak[2], peakForce, commonVelocity, separation, endForce;
  double chestPeak[4], chestClip[4], headPeak[4], hic15[4], hic36[4], beltPeak[4], bagPeak[4], travel[4], spaceLeft[4],
      distance[4], stopTime[4], efficiency[4], contactTime[4], contactSpeed[4], energy;
} Outputs;

static int partHolding(const double *series, int points, double value) {
  int i = 1;
  while (i < points - 1 && value > series[i]) i++;
  return i;
}

static double crushAt(const Vehicle *v, double force) {
  int i = partHolding(v->force, v->points, force);
  return v->crush[i - 1] + (force - v->force[i - 1]) * (v->crush[i] - v->crush[i - 1]) / (v->force[i] - v->force[i - 1]);
}

static void begin(Fronts *f, int part) {
  double wide = f->from[part + 1] - f->from[part];
  f->part = part;
  f->partFrom = f->from[part];
  f->partForce = f->forceFrom[part];
  f->partCrushA = f->crushAFrom[part];
  f->partCrushB = f->crushBFrom[part];
  f->stiffness = (f->forceFrom[part + 1] - f->partForce) / wide;
  f->shareA = (f->crushAFrom[part + 1] - f->partCrushA) / wide;
  f->shareB = (f->crushBFrom[part + 1] - f->partCrushB) / wide;
  f->partEnd = part + 1 == f->parts ? INFINITY : f->from[part + 1];
}

static void join(Fronts *f, const Vehicle *a, const Vehicle *b) {
  f->parts = -1;
  for (int i = 0, j = 0; i < a->points || j < b->points;) {
    double fa = i < a->points ? a->force[i] : INFINITY, fb = j < b->points ? b->force[j] : INFINITY, next = fmin(fa, fb);
    f->parts++;
    f->forceFrom[f->parts] = next;
    f->crushAFrom[f->parts] = crushAt(a, next);
    f->crushBFrom[f->parts] = crushAt(b, next);
    f->from[f->parts] = f->crushAFrom[f->parts] + f->crushBFrom[f->parts];
    if (fa == next) i++;
    if (fb == next) j++;
  }
  f->unloadStiffness = 1 / (a->give + b->give);
  f->force = f->peakForce = f->peakOverlap = f->crushA = f->crushB = 0;
  f->locked = 0;
  begin(f, 0);
}

static void press(Fronts *f, double overlap) {
  if (overlap > f->peakOverlap) {
    while (overlap > f->partEnd) begin(f, f->part + 1);
    double into = overlap - f->partFrom;
    f->peakOverlap = overlap;
    f->peakForce = f->force = f->partForce + f->stiffness * into;
    f->crushA = f->partCrushA + f->shareA * into;
    f->crushB = f->partCrushB + f->shareB * into;
  } else if (f->unloadStiffness == INFINITY) f->force = f->peakForce;
  else f->force = f->peakForce - f->unloadStiffness * (f->peakOverlap - overlap);
}

static void advance(const Motion *m, Vehicle *vehicle, int i) {
  double h = m->h, position = vehicle->position, loss = vehicle->loss, half = h / 2, push = 0;
  for (int k = 0; k < vehicle->seats; k++) {
    Seat *s = &vehicle->seat[k];
    double torsoVelocity = s->torsoVelocity, headVelocity = s->headVelocity;
    double torsoHalfway = torsoVelocity + half * s->torsoAcceleration;
    double headHalfway = headVelocity + half * s->headAcceleration;
    double torso = s->torso + h * torsoHalfway;
    double head = s->head + h * headHalfway;
    double travel = torso - position, headTravel = head - position;
    double stretch = travel - s->taut;
    if (stretch > s->beltReach) {
      s->taut += stretch - s->beltReach;
      stretch = s->beltReach;
    }
    double intoBag = travel - s->torsoGap, headIntoBag = headTravel - s->headGap, intoInterior = travel - s->space + loss;
    double hold = stretch > 0 ? s->beltStiffness * stretch : 0;
    if (intoBag > 0) hold += s->torsoBag * intoBag;
    if (intoInterior > 0) hold += s->interiorStiffness * intoInterior;
    double headHold = headIntoBag > 0 ? s->headBag * headIntoBag : 0;
    double neck = s->neckStiffness * (headTravel - travel);
    double torsoPull = (neck - hold) * s->torsoEase;
    double headPull = -(neck + headHold) * s->headEase;
    double settle = 1 / (1 + half * (s->torsoStilling + s->headStilling));
    double nodding = (headHalfway - torsoHalfway + half * (headPull - torsoPull)) * settle;
    double torsoAcceleration = torsoPull + s->torsoStilling * nodding;
    double headAcceleration = headPull - s->headStilling * nodding;
    double wasNodding = headVelocity - torsoVelocity;
    double torsoVelocityAfter = torsoHalfway + half * torsoAcceleration;
    double headVelocityAfter = headHalfway + half * headAcceleration;
    s->torso = torso;
    s->head = head;
    s->torsoAcceleration = torsoAcceleration;
    s->headAcceleration = headAcceleration;
    s->torsoVelocity = torsoVelocityAfter;
    s->headVelocity = headVelocityAfter;
    s->nodded += half * (wasNodding * wasNodding + nodding * nodding);
    push += hold + headHold;
    double *row = m->log + s->at + i;
    row[0] = torsoAcceleration;
    row[m->size] = headAcceleration;
    row[2 * m->size] = torsoVelocityAfter;
    row[3 * m->size] = travel;
  }
  vehicle->push = push;
}

static void move(Motion *m, int i) {
  Vehicle *a = m->a, *b = m->b;
  Fronts *f = &m->fronts;
  double h = m->h, half = h / 2;
  double velocityA = a->velocity + half * a->acceleration, velocityB = b->velocity + half * b->acceleration;
  double positionA = a->position + h * velocityA, positionB = b->position + h * velocityB;
  a->position = positionA;
  b->position = positionB;
  if (!f->locked) {
    double wasForce = f->force;
    press(f, positionA + positionB);
    if (f->force < 0) {
      if (wasForce > 0 && m->separation == INFINITY) m->separation = m->time + h * wasForce / (wasForce - f->force);
      f->force = 0;
    }
    if (f->crushA > a->noseLength) a->loss = f->crushA - a->noseLength;
    if (f->crushB > b->noseLength) b->loss = f->crushB - b->noseLength;
  }
  m->log[a->at + i] = positionA;
  m->log[b->at + i] = positionB;
  m->log[a->at + m->size + i] = a->loss;
  m->log[b->at + m->size + i] = b->loss;
  advance(m, a, i);
  advance(m, b, i);
  if (f->locked) {
    f->force = m->reducedMass * (a->push * a->ease + b->push * b->ease);
    if (f->force > f->peakForce) {
      f->force = f->peakForce;
      f->locked = 0;
    }
  }
  double force = f->force, accelerationA = (a->push - force) * a->ease, accelerationB = (b->push - force) * b->ease;
  a->acceleration = accelerationA;
  b->acceleration = accelerationB;
  a->velocity = velocityA + half * accelerationA;
  b->velocity = velocityB + half * accelerationB;
  if (fabs(accelerationA) > a->peak) a->peak = fabs(accelerationA);
  if (fabs(accelerationB) > b->peak) b->peak = fabs(accelerationB);
}

static double untilMeeting(const Motion *m, double h) {
  const Vehicle *a = m->a, *b = m->b;
  const Fronts *f = &m->fronts;
  double closing = a->velocity + b->velocity, slowing = -(a->acceleration + b->acceleration);
  if (closing > slowing * h || f->locked || f->peakForce == 0) return INFINITY;
  if (closing <= 0) return f->unloadStiffness == INFINITY && f->force > 0 ? 0 : INFINITY;
  return a->position + b->position >= f->peakOverlap ? closing / slowing : INFINITY;
}

static void fireBags(Motion *m) {
  m->nextFire = INFINITY;
  for (int side = 0; side < 2; side++) {
    Vehicle *v = side == 0 ? m->a : m->b;
    for (int k = 0; k < v->seats; k++) {
      Seat *s = &v->seat[k];
      if (s->fireTime <= m->time + 1e-9 * m->step) {
        s->fireTime = INFINITY;
        s->torsoBag = s->torsoBagStiffness;
        s->headBag = s->headBagStiffness;
        double into = fmax(0, s->torso - v->position - s->torsoGap), headInto = fmax(0, s->head - v->position - s->headGap);
        s->bagOpening = (s->torsoBag * into * into + s->headBag * headInto * headInto) / 2;
      }
      m->nextFire = fmin(m->nextFire, s->fireTime);
    }
  }
}

static void meet(Motion *m) {
  m->commonVelocity = fmin(m->commonVelocity, m->time);
  if (m->fronts.unloadStiffness != INFINITY) return;
  double shared = (m->a->velocity + m->b->velocity) * m->reducedMass;
  m->a->velocity -= shared * m->a->ease;
  m->b->velocity -= shared * m->b->ease;
  m->fronts.locked = 1;
}

static void stepOn(Motion *m, int i) {
  m->time = (i - 1) * m->step;
  m->h = m->step;
  double meeting = untilMeeting(m, m->h);
  if (meeting <= m->h || m->nextFire - m->time <= m->h) {
    double end = m->time + m->h, left = m->h;
    while (meeting <= left || m->nextFire - m->time <= left) {
      int fires = m->nextFire - m->time <= fmin(meeting, left);
      m->h = fires ? fmax(0, m->nextFire - m->time) : meeting;
      move(m, i);
      left -= m->h;
      m->time = end - left;
      if (fires) fireBags(m);
      else meet(m);
      m->h = 0;
      move(m, i);
      meeting = fires ? untilMeeting(m, left) : INFINITY;
    }
    m->h = left;
  }
  move(m, i);
}

static void step(Vehicle *a, Vehicle *b, double h, int count, double *log, Outputs *out) {
  Motion m = {.a = a, .b = b, .step = h, .log = log, .size = count + 1};
  m.nextFire = m.commonVelocity = m.separation = INFINITY;
  for (int side = 0; side < 2; side++) {
    Vehicle *v = side == 0 ? a : b;
    v->at = side * VEHICLE_COLUMNS * m.size;
    v->ease = 1 / v->mass;
    v->velocity = v->speed;
    v->position = v->acceleration = v->peak = v->loss = v->push = 0;
    for (int k = 0; k < v->seats; k++) {
      Seat *s = &v->seat[k];
      s->torsoEase = 1 / s->torsoMass;
      s->headEase = 1 / s->headMass;
      s->torsoStilling = s->neckDamping / s->torsoMass;
      s->headStilling = s->neckDamping / s->headMass;
      s->taut = s->slack;
      s->torso = s->head = s->torsoAcceleration = s->headAcceleration = 0;
      s->torsoBag = s->headBag = s->nodded = s->bagOpening = 0;
      s->torsoVelocity = s->headVelocity = v->speed;
      s->fireTime = s->bagFireTime;
      s->at = (2 * VEHICLE_COLUMNS + (side == 0 ? k : a->seats + k) * SEAT_COLUMNS) * m.size;
      m.nextFire = fmin(m.nextFire, s->fireTime);
    }
  }
  m.reducedMass = 1 / (a->ease + b->ease);
  join(&m.fronts, a, b);
  if (m.nextFire == 0) fireBags(&m);
  move(&m, 0);
  for (int i = 1; i <= count; i++) stepOn(&m, i);
  out->deltaV[0] = a->velocity - a->speed;
  out->deltaV[1] = b->velocity - b->speed;
  out->endForce = m.fronts.force;
  out->peakForce = m.fronts.peakForce;
  out->peak[0] = a->peak;
  out->peak[1] = b->peak;
  out->commonVelocity = m.commonVelocity;
  out->separation = m.separation;
}

typedef struct {
  double *velocity, best;
  int last;
} Search;

static double merit(double gain, double width) { return gain * gain * gain * gain * gain / (width * width * width); }

static void search(Search *s, int i0, int i1, int w0, int w1) {
  const double *velocity = s->velocity;
  int last = s->last;
  if (merit(velocity[i1 + w1 < last ? i1 + w1 : last] - velocity[i0], w0) <= s->best) return;
  if (i1 - i0 < 4 && w1 - w0 < 4) {
    for (int w = w0; w <= w1; w++) {
      int end = i1 < last - w ? i1 : last - w;
      double most = 0;
      for (int i = i0; i <= end; i++) {
        double gain = velocity[i + w] - velocity[i];
        if (gain > most) most = gain;
      }
      double found = merit(most, w);
      if (found > s->best) s->best = found;
    }
  } else if (i1 - i0 >= w1 - w0) {
    int middle = (i0 + i1) >> 1;
    search(s, i0, middle, w0, w1);
    search(s, middle + 1, i1, w0, w1);
  } else {
    int middle = (w0 + w1) >> 1;
    search(s, i0, i1, w0, middle);
    search(s, i0, i1, middle + 1, w1);
  }
}

static void searchWidths(Search *s, int narrowest, int widest) {
  for (int w0 = narrowest; w0 <= widest; w0 *= 2) {
    int w1 = widest < 2 * w0 - 1 ? widest : 2 * w0 - 1;
    for (int i0 = 0; i0 + w0 <= s->last; i0 += 64) search(s, i0, s->last - w0 < i0 + 63 ? s->last - w0 : i0 + 63, w0, w1);
  }
}

static int peakAt(const double *values, int last) {
  double peak = -1;
  int at = 0;
  for (int i = 0; i <= last; i++)
    if (fabs(values[i]) > peak) {
      peak = fabs(values[i]);
      at = i;
    }
  return at;
}

static int widthFor(double best, double peakMerit) {
  double width = floor(sqrt(best / peakMerit) * (1 - 1e-9));
  return peakMerit > 0 ? width > 1 ? (int)width : 1 : 1 << 28;
}

static void headCriteria(const double *acceleration, int last, double h, double *top, double *hic15, double *hic36) {
  static double *velocity = NULL;
  static int held = 0;
  if (held < last + 1) velocity = realloc(velocity, (size_t)(held = last + 1) * sizeof *velocity);
  double before = fabs(acceleration[0]), sum = 0, peak = before;
  int peakAt = 0;
  velocity[0] = 0;
  for (int i = 1; i <= last; i++) {
    double here = fabs(acceleration[i]);
    velocity[i] = sum += (before + here) / 2;
    if (here > peak) {
      peak = here;
      peakAt = i;
    }
    before = here;
  }
  *top = peak;
  int narrow = (int)floor(0.015 / h * (1 + 1e-9)), wide = (int)floor(0.036 / h * (1 + 1e-9));
  if (narrow > last) narrow = last;
  if (wide > last) wide = last;
  double bestNarrow = 0, bestWide = 0;
  for (int w = 1, left = peakAt, right = peakAt; w <= wide; w++) {
    if (right == last || (left > 0 && velocity[left] - velocity[left - 1] > velocity[right + 1] - velocity[right])) left--;
    else right++;
    double found = merit(velocity[right] - velocity[left], w);
    if (found > bestWide) bestWide = found;
    if (w == narrow) bestNarrow = bestWide;
  }
  double peakMerit = merit(peak, 1);
  Search s = {velocity, bestNarrow, last};
  searchWidths(&s, widthFor(bestNarrow, peakMerit), narrow);
  bestNarrow = s.best;
  s.best = fmax(bestNarrow, bestWide);
  int narrowest = widthFor(s.best, peakMerit);
  searchWidths(&s, narrowest > narrow ? narrowest : narrow + 1, wide);
  double scale = h / (GRAVITY * GRAVITY * sqrt(GRAVITY));
  *hic15 = sqrt(bestNarrow) * scale;
  *hic36 = sqrt(s.best) * scale;
}

static double at(const double *acceleration, int last, double x) {
  int i = (int)floor(x);
  if (i > last - 1) i = last - 1;
  double from = fabs(acceleration[i]);
  return from + (x - i) * (fabs(acceleration[i + 1]) - from);
}

static double piece(const double *acceleration, int last, int i, double from, double to, double steps, double lowest) {
  double left0 = at(acceleration, last, i + from), left1 = at(acceleration, last, i + to);
  double right0 = at(acceleration, last, i + from + steps), right1 = at(acceleration, last, i + to + steps);
  double best = fmax(fmin(left0, right0), fmin(left1, right1)), gap0 = left0 - right0, gap1 = left1 - right1;
  if ((gap0 > 0) == (gap1 > 0) || gap0 == gap1) return fmin(lowest, best);
  return fmin(lowest, fmax(best, left0 + gap0 / (gap0 - gap1) * (left1 - left0)));
}

static double heldLevel(const double *acceleration, int last, double h, double duration, int top) {
  double exact = duration / h, rounded = round(exact), steps = fabs(exact - rounded) < 1e-9 * rounded ? rounded : exact;
  int whole = (int)floor(steps);
  double part = steps - whole, best = fabs(acceleration[top]);
  if (steps > last) return 0;
  for (int left = top, right = top; right - left < steps;) {
    double before = left > 0 ? fabs(acceleration[left - 1]) : -1, after = right < last ? fabs(acceleration[right + 1]) : -1;
    if (before < 0 && after < 0) break;
    if (before > after) left--;
    else right++;
    best = fmin(best, fmax(before, after));
  }
  for (int i = 0; i + steps <= last; i++) {
    double lowest = INFINITY;
    int j = i + whole;
    for (; j > i; j--) {
      double value = fabs(acceleration[j]);
      if (value <= best) break;
      if (value < lowest) lowest = value;
    }
    if (j > i) {
      i = j - 1;
      continue;
    }
    double cut = fmin(1 - part, last - steps - i);
    best = fmax(best, piece(acceleration, last, i, 0, cut, steps, lowest));
    if (part > 0 && i + 1 - part + steps <= last)
      best = fmax(best, piece(acceleration, last, i, cut, fmin(1, last - steps - i), steps, fmin(lowest, fabs(acceleration[i + whole + 1]))));
  }
  return best;
}

static double interior(const Seat *s, double travel, double loss) { return s->interiorStiffness * fmax(0, travel - s->space + loss); }

/* What the log holds of one occupant and the vehicle. */
typedef struct {
  const double *position, *loss, *chestAcceleration, *headAcceleration, *chestVelocity, *chestTravel;
} Columns;

static double gapAt(const Seat *s, const Columns *c, int i) { return i < 0 ? s->space : s->space - c->loss[i] - c->chestTravel[i]; }

static void rideDown(const Vehicle *v, const Seat *s, const Columns *c, int last, double h, double drift, int n, Outputs *out) {
  const double *chestAcceleration = c->chestAcceleration, *chestVelocity = c->chestVelocity, *chestTravel = c->chestTravel, *position = c->position;
  double along = 0, start = v->speed - drift;
  int i = 1;
  for (; i <= last && chestVelocity[i] > drift; i++)
    along -= (chestAcceleration[i - 1] + chestAcceleration[i]) / 2 * (position[i] - position[i - 1] - drift * h);
  int stopped = i <= last;
  double before = chestVelocity[i - 1] - drift, part = stopped ? before / (before + drift - chestVelocity[i]) : 0;
  out->stopTime[n] = (i - 1 + part) * h;
  out->distance[n] = position[i - 1] + chestTravel[i - 1] - drift * (i - 1) * h + part * h * before / 2;
  if (stopped) along -= chestAcceleration[i - 1] * part * (position[i] - position[i - 1] - drift * h);
  out->efficiency[n] = along / (stopped ? start * start / 2 : (start * start - before * before) / 2);
  out->contactTime[n] = out->contactSpeed[n] = -1;
  if (out->spaceLeft[n] < 0) {
    int i = 0;
    while (gapAt(s, c, i) >= 0) i++;
    double here = gapAt(s, c, i - 1), after = gapAt(s, c, i), before = gapAt(s, c, i - 2);
    double rate = (after - before) / 2, bend = after - 2 * here + before;
    double x = fmin(1, 2 * here / (sqrt(fmax(0, rate * rate - 2 * bend * here)) - rate));
    out->contactTime[n] = (i - 1 + x) * h;
    out->contactSpeed[n] = -(rate + bend * x) / h;
  }
}

static double energyAt(const Vehicle *v, double crush) {
  double energy = 0;
  int last = partHolding(v->crush, v->points, crush);
  for (int i = 1; i <= last; i++) {
    double slope = (v->force[i] - v->force[i - 1]) / (v->crush[i] - v->crush[i - 1]), to = i == last ? crush : v->crush[i];
    energy += (2 * v->force[i - 1] + slope * (to - v->crush[i - 1])) / 2 * (to - v->crush[i - 1]);
  }
  return energy;
}

static void outputs(const Vehicle *vehicles, const double *log, double h, int count, Outputs *out) {
  double whole[2];
  out->energy = 0;
  for (int side = 0; side < 2; side++) {
    whole[side] = vehicles[side].mass;
    for (int k = 0; k < vehicles[side].seats; k++) whole[side] += vehicles[side].seat[k].torsoMass + vehicles[side].seat[k].headMass;
  }
  double drift = (whole[0] * vehicles[0].speed - whole[1] * vehicles[1].speed) / (whole[0] + whole[1]);
  for (int side = 0, n = 0; side < 2; side++) {
    const Vehicle *v = &vehicles[side];
    double loss = log[v->at + count + 1 + count];
    out->energy += v->mass * v->velocity * v->velocity / 2 + energyAt(v, crushAt(v, out->peakForce)) - v->give * (out->peakForce * out->peakForce - out->endForce * out->endForce) / 2;
    for (int k = 0; k < v->seats; k++, n++) {
      const Seat *s = &v->seat[k];
      const double *block = log + s->at;
      Columns c = {log + v->at, log + v->at + count + 1, block, block + count + 1, block + 2 * (count + 1), block + 3 * (count + 1)};
      int chestTop = peakAt(c.chestAcceleration, count);
      out->chestPeak[n] = fabs(c.chestAcceleration[chestTop]);
      out->chestClip[n] = heldLevel(c.chestAcceleration, count, h, 0.003, chestTop);
      headCriteria(c.headAcceleration, count, h, &out->headPeak[n], &out->hic15[n], &out->hic36[n]);
      double travel = 0, travelIntoBag = 0, spaceLeft = s->space;
      int standing = (int)ceil(s->bagFireTime / h - 1e-9);
      for (int i = 0; i <= count; i++) {
        double forward = c.chestTravel[i], gap = s->space - c.loss[i] - forward;
        if (forward > travel) travel = forward;
        if (forward > travelIntoBag && i >= standing) travelIntoBag = forward;
        if (gap < spaceLeft) spaceLeft = gap;
      }
      out->travel[n] = travel;
      out->spaceLeft[n] = spaceLeft;
      out->beltPeak[n] = fmin(s->beltStiffness * s->beltReach, s->beltStiffness * fmax(0, travel - s->taut));
      out->bagPeak[n] = s->torsoBagStiffness * fmax(0, travelIntoBag - s->torsoGap);
      rideDown(v, s, &c, count, h, side == 0 ? drift : -drift, n, out);
      double end = c.chestTravel[count], belt = s->beltStiffness * fmax(0, end - s->taut);
      double into = fmax(0, end - s->torsoGap), headInto = fmax(0, s->head - v->position - s->headGap), press = interior(s, end, loss);
      out->energy += (s->torsoMass * s->torsoVelocity * s->torsoVelocity + s->headMass * s->headVelocity * s->headVelocity) / 2 +
                     belt * belt / (2 * s->beltStiffness) + s->beltStiffness * s->beltReach * (s->taut - s->slack) +
                     (s->torsoBag * into * into + s->headBag * headInto * headInto) / 2 - s->bagOpening +
                     press * press / (2 * s->interiorStiffness) + s->neckStiffness * (s->head - s->torso) * (s->head - s->torso) / 2 + s->neckDamping * s->nodded;
      if (loss > 0)
        for (int i = 1; i <= count; i++) {
          double pushed = c.loss[i] - c.loss[i - 1];
          if (pushed > 0) out->energy -= (interior(s, c.chestTravel[i - 1], c.loss[i - 1]) + interior(s, c.chestTravel[i], c.loss[i])) / 2 * pushed;
        }
    }
  }
}

static double number(void) {
  double value;
  if (scanf("%lf", &value) != 1) exit(1);
  return value;
}

/* Processor time in microseconds. */
static double now(void) { return clock() * (1e6 / CLOCKS_PER_SEC); }

int main(void) {
  static Vehicle v[2];
  Outputs out;
  int repeats = (int)number(), count = (int)number();
  double h = number();
  double *log = calloc((size_t)(2 * (VEHICLE_COLUMNS + MOST * SEAT_COLUMNS) * (count + 1)), sizeof *log);
  for (int side = 0; side < 2; side++) {
    Vehicle *w = &v[side];
    w->mass = number();
    w->speed = number();
    w->give = number();
    w->noseLength = number();
    w->points = (int)number();
    for (int i = 0; i < w->points; i++) w->crush[i] = number();
    for (int i = 0; i < w->points; i++) w->force[i] = number();
    w->seats = (int)number();
    for (int k = 0; k < w->seats; k++) {
      Seat *s = &w->seat[k];
      double *fields[] = {&s->torsoMass, &s->headMass, &s->slack, &s->beltStiffness, &s->beltReach, &s->bagFireTime, &s->torsoGap, &s->torsoBagStiffness, &s->headGap, &s->headBagStiffness, &s->space, &s->interiorStiffness, &s->neckStiffness, &s->neckDamping};
      for (size_t f = 0; f < sizeof fields / sizeof *fields; f++) *fields[f] = number();
    }
  }
  double start = now();
  for (int r = 0; r < repeats; r++) step(&v[0], &v[1], h, count, log, &out);
  double between = now();
  for (int r = 0; r < repeats; r++) {
    step(&v[0], &v[1], h, count, log, &out);
    outputs(v, log, h, count, &out);
  }
  double end = now();
  printf("%.4f %.4f %.17g %.17g %.17g %.17g\n", (between - start) / repeats, (end - between) / repeats, out.deltaV[0], out.hic15[0], out.chestClip[1], out.energy);
  return 0;
}
