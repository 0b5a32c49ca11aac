//! What an address means on another device.

/// Whether a host's name means on every device that device itself (RFC 6761,
/// RFC 1122, RFC 4291), as browsers write it.
pub fn is_this_device(host: &str) -> bool {
    let name = host.trim_end_matches('.');
    name == "localhost"
        || name.ends_with(".localhost")
        || name.starts_with("127.")
        || matches!(name, "0.0.0.0" | "[::1]" | "[::]")
}

#[cfg(test)]
mod tests {
    use super::is_this_device;

    #[test]
    fn some_names_mean_every_device_itself() {
        for host in ["localhost", "mill.localhost", "127.0.0.1", "127.8.8.8", "[::1]", "0.0.0.0"] {
            assert!(is_this_device(host), "{host}");
        }
        for host in ["192.168.1.12", "shop.lan", "example.org", "notlocalhost", "[fe80::1]", "10.127.0.1"] {
            assert!(!is_this_device(host), "{host}");
        }
    }
}
