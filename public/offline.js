// Keeps this version of the page for use without a network, and says when a newer one is ready.
// Nothing changes until the user says so. The build puts this script into the page and names the
// service worker; where it does not, nothing of this happens.
(() => {
  const { worker } = document.currentScript.dataset;
  // Missing on file addresses and on plain http to another machine.
  if (!navigator.serviceWorker || !window.caches || !window.BroadcastChannel) return;

  const start = async () => {
    const registration = await navigator.serviceWorker.register(worker);
    const { scope } = registration;
    const windows = new BroadcastChannel(`copewright ${scope}`);
    // The address follows what is typed in its own time; a reload between the two would lose the
    // last word.
    const change = () => setTimeout(() => location.reload(), 500);
    windows.onmessage = change;

    // Names of the versions that are kept whole, oldest first; the oldest is the one in use.
    const kept = async () => {
      const whole = [];
      for (const name of await caches.keys())
        if (name.startsWith(`copewright ${scope} `) && (await (await caches.open(name)).match(scope)))
          whole.push(name);
      return whole;
    };

    let told = false;
    const look = async () => {
      if ((await kept()).length < 2 || told) return;
      told = true;
      const notice = document.createElement('p');
      notice.className = 'newer';
      notice.setAttribute('role', 'status');
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = 'Change to it';
      button.onclick = async () => {
        button.disabled = true;
        // What is newest now; it need not be what was newest when this was said.
        for (const old of (await kept()).slice(0, -1)) await caches.delete(old);
        // Windows of the old version would find its files gone.
        windows.postMessage('changed');
        change();
      };
      notice.append('A newer version is ready. What is typed stays. ', button);
      document.body.prepend(notice);
    };

    registration.onupdatefound = () => {
      const { installing } = registration;
      if (installing) installing.onstatechange = look;
    };
    await look();
  };

  // The page itself comes first. A browser that refuses works on with the network.
  addEventListener('load', () => start().catch(() => {}));
})();
