// TLS for connections that are already there: RFC 8446 and, at least, RFC 5246.
#pragma once
#include <openssl/ssl.h>

#include <memory>
#include <string>

namespace layright {

struct FreesTls {
  void operator()(SSL_CTX* context) const { SSL_CTX_free(context); }
  void operator()(SSL* connection) const { SSL_free(connection); }
};
using TlsContext = std::unique_ptr<SSL_CTX, FreesTls>;
using TlsConnection = std::unique_ptr<SSL, FreesTls>;

/// With a certificate, its chain and its key from PEM files. Empty where they do not do, and `trouble` says why.
TlsContext tls_context(std::string const& certificate, std::string const& key, std::string& trouble);

}  // namespace layright
