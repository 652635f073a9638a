// Says so when the page cannot start or has stopped, and has it kept on the
// device once it has started. Written for old browsers too: they are the ones
// that will not start.
(function () {
  'use strict';
  var started = false;
  var told = false;
  // A slow phone on a weak signal may need this long; a hint, not a verdict.
  var PATIENCE_MS = 20000;

  function whenReady(action) {
    if (document.readyState === 'loading') {
      document.addEventListener('DOMContentLoaded', action);
    } else {
      action();
    }
  }

  function say(text) {
    whenReady(function () {
      var state = document.getElementById('start-state');
      if (state) {
        state.setAttribute('role', 'alert');
        state.textContent = text;
      }
    });
  }

  // What keeps the page can wait for its figures; but it comes without them too,
  // since a newer version may be the way out of one that does not start.
  var kept = false;
  function keep() {
    if (kept) return;
    kept = true;
    var script = document.createElement('script');
    script.type = 'module';
    script.src = 'offline.js';
    document.head.appendChild(script);
  }

  function cannotStart() {
    keep();
    if (!started && !told) {
      told = true;
      say(
        'Tyreside could not start. Load the page again; if that does not help, ' +
          'this browser may be too old or block WebAssembly.'
      );
    }
  }

  // A panic leaves the page on screen but dead: figures would no longer follow.
  function hasStopped() {
    var notice = document.getElementById('notice');
    if (!notice || told) return;
    told = true;
    notice.textContent = '';
    notice.setAttribute('data-kind', 'stopped');
    var text = document.createElement('p');
    text.textContent = 'The page has stopped: figures shown no longer follow what is entered.';
    var button = document.createElement('button');
    button.type = 'button';
    button.textContent = 'Load again';
    button.onclick = function () { location.reload(); };
    notice.appendChild(text);
    notice.appendChild(button);
  }

  function isTrap(reason) {
    return typeof WebAssembly === 'object' && reason instanceof WebAssembly.RuntimeError;
  }

  // Captured, because a script that fails to load tells only its own element.
  window.addEventListener('error', function (event) {
    if (started) {
      if (isTrap(event.error)) hasStopped();
    } else if (!event.target || event.target === window || event.target.tagName === 'SCRIPT') {
      cannotStart();
    }
  }, true);
  window.addEventListener('unhandledrejection', function (event) {
    if (started) {
      if (isTrap(event.reason)) hasStopped();
    } else {
      cannotStart();
    }
  });
  window.addEventListener('TrunkApplicationStarted', function () {
    started = true;
    told = false;
    keep();
  });

  if (typeof WebAssembly !== 'object' || !('noModule' in document.createElement('script'))) {
    cannotStart();
  }
  setTimeout(function () {
    keep();
    if (!started && !told) {
      say('Still starting. If nothing changes, load the page again.');
    }
  }, PATIENCE_MS);
})();
