// That the rules of `arrows.mjs` catch what they are for, however it is written.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { faults, imports } from './arrows.mjs';

const GOOD = {
  'mod.rs': 'use self::frame::app;',
  'frame/app.rs': 'use crate::ui::frame::table::VIEWS;',
  'frame/state.rs': '',
  'frame/table.rs': 'use crate::ui::views::{air, rig::{self, view}};',
  'kit/element.rs': '// crate::ui::views::air is not called: this is a comment.\nconst A: &str = "crate::ui::views::air";',
  'kit/fields.rs': 'use super::element::{Element, Node as N};\nuse crate::ui::frame::state::State;',
  'views/air/mod.rs': 'mod now;\nuse crate::ui::kit::{element as air, fields};',
  'views/air/now.rs': 'mod inner { use super::super::row; use super::super::super::super::kit::fields; }',
  'views/rig/mod.rs': 'fn f() { crate::ui::kit::element::f() }',
};

const arrows = (changed = {}) => imports(new Map(Object.entries({ ...GOOD, ...changed })));

test('arrows are found however a path is written', () => {
  assert.deepEqual(arrows().map((arrow) => arrow.join(' → ')), [
    ' → frame::app',
    'frame::app → frame::table',
    'frame::table → views::air',
    'frame::table → views::rig',
    'kit::fields → frame::state',
    'kit::fields → kit::element',
    'views::air → kit::element',
    'views::air → kit::fields',
    'views::air::now → kit::fields',
    'views::air::now → views::air',
    'views::rig → kit::element',
  ]);
  assert.deepEqual(faults(arrows()), []);
});

for (const [what, file, source, fault] of [
  ['a view called by the kit', 'kit/element.rs', 'use crate::ui::{views::air};', /from the kit to a view/],
  ['a view called by another', 'views/rig/mod.rs', 'fn f() { super::air::now::f(); }', /between views: views::rig → views::air::now/],
  ['a view called from within a macro', 'views/rig/mod.rs', 'fn f() { vec![crate::ui::views::air::f()] }', /between views/],
  ['the frame called past its state', 'kit/fields.rs', 'use crate::ui::frame::table::VIEWS;', /past its state/],
  ['a circle in the kit', 'kit/element.rs', 'use super::fields::f;', /in a circle: kit::element, kit::fields/],
  ['a circle through the state', 'frame/state.rs', 'use crate::ui::kit::fields;', /in a circle: frame::state, kit::fields/],
]) {
  test(`is amiss: ${what}`, () => {
    assert.match(faults(arrows({ [file]: source })).join('\n'), fault);
  });
}
