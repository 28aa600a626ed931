#include "desk/server_module/tls.h"

#include <openssl/err.h>

namespace layright {
namespace {

std::string openssl_says() {
  char text[256] = "it is not of that form";
  if (auto const code = ERR_get_error(); code != 0) ERR_error_string_n(code, text, sizeof text);
  ERR_clear_error();
  return text;
}

}  // namespace

TlsContext tls_context(std::string const& certificate, std::string const& key, std::string& trouble) {
  TlsContext context(SSL_CTX_new(TLS_server_method()));
  if (!context || SSL_CTX_set_min_proto_version(context.get(), TLS1_2_VERSION) != 1) {
    trouble = "there is no TLS here: " + openssl_says();
    return {};
  }
  SSL_CTX_set_options(context.get(), SSL_OP_NO_RENEGOTIATION | SSL_OP_NO_COMPRESSION | SSL_OP_CIPHER_SERVER_PREFERENCE);
  SSL_CTX_set_mode(context.get(), SSL_MODE_ENABLE_PARTIAL_WRITE | SSL_MODE_ACCEPT_MOVING_WRITE_BUFFER);
  if (SSL_CTX_use_certificate_chain_file(context.get(), certificate.c_str()) != 1) trouble = certificate + " is no certificate: " + openssl_says();
  else if (SSL_CTX_use_PrivateKey_file(context.get(), key.c_str(), SSL_FILETYPE_PEM) != 1) trouble = key + " is no key: " + openssl_says();
  else if (SSL_CTX_check_private_key(context.get()) != 1) trouble = key + " is not the key of " + certificate;
  else return context;
  return {};
}

}  // namespace layright
