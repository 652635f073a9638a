// Says so when the page cannot start or has stopped, has it kept on the device
// once it has started, and says what text may become markup or a script.
// Written for old browsers too: they are the ones that will not start.
(function () {
  'use strict';
  var started = false;
  var told = false;
  // A slow phone on a weak signal may need this long; a hint, not a verdict.
  var PATIENCE_MS = 20000;

  // The one policy of Trusted Types (site.mjs): shapes alone make a drawing, and
  // no other script than these is fetched. Without Trusted Types it is asked too.
  var rules = {
    createHTML: function (text) {
      if (/<(?!\/?(?:svg|g|rect|circle|line|polyline|polygon|path|text)\b)|<[^>]*[\s"'\/]on\w+\s*=/i.test(text)) throw TypeError(text);
      return text;
    },
    createScriptURL: function (name) {
      if (name !== 'offline.js' && name !== './sw.js') throw TypeError(name);
      return name;
    }
  };
  window.tyreside = window.trustedTypes ? window.trustedTypes.createPolicy('tyreside', rules) : rules;

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
    script.src = window.tyreside.createScriptURL('offline.js');
    // Its last statement marks the page: without that, it is not all there.
    script.onload = script.onerror = function () {
      var page = document.documentElement;
      if (page.getAttribute('data-offline')) return;
      page.setAttribute('data-offline', 'no');
      var notice = document.getElementById('notice');
      if (notice && !notice.textContent) {
        notice.textContent = 'Part of Tyreside is missing or damaged: this page works, but may not start without a network. Load the page again where there is one. What you entered is kept.';
      }
    };
    document.head.appendChild(script);
  }

  // Once only: what follows from the first reason explains less.
  function cannotStart(reason) {
    keep();
    if (!started && !told) {
      told = true;
      say('Tyreside could not start: ' + reason);
    }
  }
  var MISSED = 'part of it could not be fetched. Load the page again where there is a network. What you entered is kept.';
  var OLD = 'load the page again. If that does not help, this browser may be too old or block WebAssembly.';

  // Browsers have no word in common for a fetch that failed.
  function failed(reason) {
    cannotStart(reason instanceof TypeError && /fetch|load|network/i.test(reason.message) ? MISSED : OLD);
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
    } else if (event.target && event.target.tagName === 'SCRIPT') {
      cannotStart(MISSED);
    } else if (!event.target || event.target === window) {
      failed(event.error);
    }
  }, true);
  window.addEventListener('unhandledrejection', function (event) {
    if (started) {
      if (isTrap(event.reason)) hasStopped();
    } else {
      failed(event.reason);
    }
  });
  document.addEventListener('securitypolicyviolation', function (event) {
    if (!started && /^script-src/.test(event.effectiveDirective)) {
      told = false;
      cannotStart('a policy of its host forbids it. Whoever runs the host must allow its scripts and WebAssembly.');
    }
  });
  window.addEventListener('TrunkApplicationStarted', function () {
    started = true;
    told = false;
    // After the first figures are drawn. A page that nobody sees draws none, and
    // is kept when its time is up.
    requestAnimationFrame(function () { setTimeout(keep); });
  });

  if (typeof WebAssembly !== 'object' || !('noModule' in document.createElement('script'))) {
    cannotStart(OLD);
  }
  setTimeout(function () {
    keep();
    if (!started && !told) {
      say('Still starting. If nothing changes, load the page again.');
    }
  }, PATIENCE_MS);
})();
